package nutrientplan

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"rootworthy/internal/csvlist"
	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
)

// reportForm bounds a report: a line for each nutrient of a sample, and laboratories test some thousand samples of a farm at most.
func reportForm() csvlist.Form {
	return csvlist.Form{Columns: strings.Split(reportHeader, ","), MostBytes: 4 << 20, MostRows: 100000, Instead: "split the file"}
}

// Report is what laboratories print beside their figures: the class of a nutrient and the rate they advise.
type Report struct{ lines []reportLine }

// A line may hold a class, a rate, both or neither.
type reportLine struct {
	line    int // of the file
	sample  string
	printed nutrient.Printed // class "" when not printed
	advised unit.Opt[Advised]
}

const (
	reportHeader = "sample_id,nutrient,class,rate,unit"
	mostAdvised  = 2000 * unit.PoundPerAcre // of anything: a slip of the pen
)

// ReadReport reads a report from CSV:
//
//	sample_id,nutrient,class,rate,unit
//	7,k,low,240,lb_ac
//	7,p,high,,
//
// nutrient is k, p, mg, s, b or mo. The rate is of what fertilizer is sold by, K2O and P2O5 for k and p, in lb_ac or kg_ha; it is the laboratory's
// own for alfalfa and goes before every table. Class and rate may each be empty. A bad line is left out and told. The error says
// that the file could not be read.
func ReadReport(name string, r io.Reader, faults *diag.List) (*Report, error) {
	// unit may lack where no line has a rate; class, where none is printed
	list, err := csvlist.Open(name, r, reportForm())
	if err != nil {
		return nil, err
	}
	d := reportReader{name: name, faults: faults, out: &Report{}}
	if !list.Has("sample_id") || !list.Has("nutrient") {
		d.fault(list.Line, "", "no header", "begin with the line "+reportHeader, "the file does not begin with the report's header")
		return d.out, nil
	}
	for row := range list.Rows(faults) {
		d.row(row)
	}
	return d.out, nil
}

// reportReader collects the lines that can be used.
type reportReader struct {
	name   string
	faults *diag.List
	out    *Report
}

// fault tells of a cell of the report by its line and column.
func (d *reportReader) fault(line int, field, kind, fix, format string, args ...any) {
	d.faults.Add(diag.Fault{File: d.name, Line: line, Field: field, Kind: kind, What: fmt.Sprintf(format, args...), Fix: fix})
}

// row reads a line.
func (d *reportReader) row(row csvlist.Row) {
	// a line is checked from the left: who it is about, which nutrient, then what is said of it
	line, sample, code := row.Line, row.Cell("sample_id"), row.Cell("nutrient")
	n, ok := nutrient.ByCode(strings.ToLower(code))
	switch {
	case sample == "":
		d.fault(line, "sample_id", "no sample", "name the sample as its bag does", "the line has no sample")
		return
	case !ok:
		d.fault(line, "nutrient", "unknown nutrient", "write k, p, mg, s, b or mo", "%q is no nutrient", code)
		return
	}
	l := reportLine{line: line, sample: sample, printed: nutrient.Printed{Nutrient: n, Class: row.Cell("class")}}
	if advised := row.Cell("rate"); advised != "" {
		rate, ok := d.rate(line, n, advised, strings.ToLower(row.Cell("unit")))
		if !ok {
			return
		}
		l.advised = unit.Some(Advised{n, rate, "the laboratory's report, " + d.name})
	}
	d.out.lines = append(d.out.lines, l)
}

// rate reads the rate of a line. More boron than the sources allow is taken for the product, and told.
func (d *reportReader) rate(line int, n nutrient.Nutrient, cell, in string) (unit.AreaRate, bool) {
	// laboratories print both; a rate without a unit is refused, since the two differ by some 12 % only and nobody would notice
	per, known := map[string]unit.AreaRate{"lb_ac": unit.PoundPerAcre, "kg_ha": unit.TonnePerHectare / 1000}[in]
	if !known {
		d.fault(line, "unit", "unknown unit", "write lb_ac or kg_ha", "%q is no unit of a rate", in)
		return 0, false
	}
	v, err := strconv.ParseFloat(cell, 64)
	rate := unit.AreaRate(v) * per
	if err != nil || !(rate >= 0 && rate <= mostAdvised) {
		d.fault(line, "rate", "out of range", "correct the cell, or leave it empty", "%q is not a rate from 0 to 2,000 lb/ac", cell)
		return 0, false
	}
	if n == nutrient.Boron && rate > nutrient.MostBoron {
		d.fault(line, "rate", "too much boron", "write pounds of boron, not of the product", "%q of boron harms the crop; sources allow 3 lb/ac", cell)
		return 0, false
	}
	if n == nutrient.Molybdenum && rate > nutrient.MostMolybdenum {
		d.fault(line, "rate", "too much molybdenum", "write pounds of molybdenum: 3 ounces are 0.1875", "%q of molybdenum poisons cattle; the source allows 3 oz/ac", cell)
		return 0, false
	}
	return rate, true
}

// Strangers tells of lines about samples that the laboratory's file does not hold: a class or a rate that nobody would use.
func (r *Report) Strangers(name string, samples []lab.Sample, faults *diag.List) {
	known := map[string]bool{}
	for i := range samples {
		// reports name a sample by its bag or by the laboratory's number
		known[samples[i].ID], known[samples[i].LabNumber] = true, true
	}
	for _, l := range r.lines {
		if !known[l.sample] {
			faults.Add(diag.Fault{File: name, Line: l.line, Field: "sample_id", Kind: "unknown sample", What: fmt.Sprintf("the tests hold no sample %q", l.sample), Fix: "name the sample as its bag or the laboratory does"})
		}
	}
}

// Of returns a sample as a test, with the classes and the advice that the report has for it. A nil report has none.
func (r *Report) Of(s *lab.Sample) Test {
	t := Test{Soil: nutrient.Soil{Sample: s}}
	if r == nil {
		return t
	}
	for _, l := range r.lines {
		// a line without a sample was refused, so an empty number matches nothing
		if l.sample != s.ID && l.sample != s.LabNumber {
			continue
		}
		if l.printed.Class != "" {
			t.Printed = append(t.Printed, l.printed)
		}
		if a, ok := l.advised.Get(); ok {
			t.Advised = append(t.Advised, a)
		}
	}
	return t
}
