package nutrientplan

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
)

// Report is what laboratories print beside their figures: the class of a nutrient and the rate they advise.
type Report struct{ lines []reportLine }

type reportLine struct {
	sample  string
	printed nutrient.Printed // class "" when not printed
	advised unit.Opt[Advised]
}

const (
	reportHeader = "sample_id,nutrient,class,rate,unit"
	mostReport   = 4 << 20 // bytes
	mostLines    = 100000
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
	text, err := io.ReadAll(io.LimitReader(r, mostReport+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(text) > mostReport {
		return nil, fmt.Errorf("%s: over 4 MiB; this is no laboratory's report", name)
	}
	d := reportReader{name: name, faults: faults, out: &Report{}}
	in := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(text), "\ufeff")))
	in.FieldsPerRecord, in.TrimLeadingSpace = -1, true
	head, err := in.Read()
	if err != nil || !d.header(head) {
		d.fault(1, "", "no header", "begin with the line "+reportHeader, "the file does not begin with the report's header")
		return d.out, nil
	}
	for len(d.out.lines) < mostLines {
		row, err := in.Read()
		if err == io.EOF {
			return d.out, nil
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			d.fault(bad.Line, "", "not CSV", "mend the quotation marks", "%v", bad.Err)
			continue
		}
		line, _ := in.FieldPos(0)
		d.row(line, row)
	}
	d.fault(0, "", "too large", "split the file", "over 100,000 lines; the rest is not read")
	return d.out, nil
}

type reportReader struct {
	name   string
	faults *diag.List
	out    *Report
	at     []int // of the header's columns
}

func (d *reportReader) fault(line int, field, kind, fix, format string, args ...any) {
	d.faults.Add(diag.Fault{File: d.name, Line: line, Field: field, Kind: kind, What: fmt.Sprintf(format, args...), Fix: fix})
}

// header finds the columns, in any order; only sample_id and nutrient must be there.
func (d *reportReader) header(head []string) bool {
	for i, h := range head {
		head[i] = strings.ToLower(strings.TrimSpace(h))
	}
	for _, c := range strings.Split(reportHeader, ",") {
		d.at = append(d.at, slices.Index(head, c))
	}
	return d.at[0] >= 0 && d.at[1] >= 0
}

// row reads a line.
func (d *reportReader) row(line int, row []string) {
	var cell [5]string
	for i, at := range d.at {
		if at >= 0 && at < len(row) {
			cell[i] = strings.TrimSpace(row[at])
		}
	}
	n, ok := nutrient.ByCode(strings.ToLower(cell[1]))
	switch {
	case cell[0] == "":
		d.fault(line, "sample_id", "no sample", "name the sample as its bag does", "the line has no sample")
		return
	case !ok:
		d.fault(line, "nutrient", "unknown nutrient", "write k, p, mg, s, b or mo", "%q is no nutrient", cell[1])
		return
	}
	l := reportLine{sample: cell[0], printed: nutrient.Printed{Nutrient: n, Class: cell[2]}}
	if cell[3] != "" {
		rate, ok := d.rate(line, n, cell[3], strings.ToLower(cell[4]))
		if !ok {
			return
		}
		l.advised = unit.Some(Advised{n, rate, "the laboratory's report, " + d.name})
	}
	d.out.lines = append(d.out.lines, l)
}

// rate reads the rate of a line. More boron than the sources allow is taken for the product, and told.
func (d *reportReader) rate(line int, n nutrient.Nutrient, cell, in string) (unit.AreaRate, bool) {
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
	return rate, true
}

// Of returns a sample as a test, with the classes and the advice that the report has for it. A nil report has none.
func (r *Report) Of(s *lab.Sample) Test {
	t := Test{Soil: nutrient.Soil{Sample: s}}
	if r == nil {
		return t
	}
	for _, l := range r.lines {
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
