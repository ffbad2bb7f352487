package season

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"rootworthy/internal/csvlist"
	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Columns of a file of normals.
const (
	colMeasure = "measure"         // "first freeze" or "soil temperature"
	colDate    = "date"            // month and day, "11-08"
	colValue   = "value_f"         // °F: the threshold of the freeze, or the soil's temperature
	colChance  = "probability_pct" // of the freeze having come by then; empty means 50
	colSource  = "source"          // in words
)

// normalsForm bounds a file of normals: a megabyte is a row for each day of the year and more.
func normalsForm() csvlist.Form {
	return csvlist.Form{Columns: normalsColumns(), MostBytes: 1 << 20, Instead: "give freeze days and soil temperatures alone"}
}

func normalsColumns() []string { return []string{colMeasure, colDate, colValue, colChance, colSource} }

// ReadNormals reads normals from CSV with a heading:
//
//	measure,date,value_f,probability_pct,source
//	first freeze,11-14,28,50,"station normals 1991-2020"
//	soil temperature,10-15,68,,
//
// A row that cannot be read is a fault and left out; ok is false when nothing was read. The error says that the file could not be read.
func ReadNormals(name string, r io.Reader, faults *diag.List) (n *Normals, ok bool, err error) {
	list, err := csvlist.Open(name, r, normalsForm())
	if err != nil {
		return nil, false, err
	}
	in := &normalsReader{name: name, faults: faults}
	// chance and source may lack: they have a meaning when empty
	for _, want := range []string{colMeasure, colDate, colValue} {
		if !list.Has(want) {
			in.fault(list.Line, want, "no column", "the heading lacks it", "write the heading "+strings.Join(normalsColumns(), ","))
			return nil, false, nil
		}
	}
	for row := range list.Rows(faults) {
		in.row(row.Line, row.Cell)
	}
	n = &in.out
	n.Name = name
	// rows may stand in any order
	slices.SortStableFunc(n.Soil, func(a, b SoilNormal) int {
		return int(a.Day.Month)*100 + a.Day.Day - int(b.Day.Month)*100 - b.Day.Day
	})
	if len(n.Freezes)+len(n.Soil) == 0 {
		faults.Add(diag.Fault{File: name, Kind: "empty", What: "no row could be used", Fix: "see the rows above, or leave the file out"})
		return nil, false, nil
	}
	return n, true, nil
}

// normalsReader is a file of normals being read.
type normalsReader struct {
	name   string
	faults *diag.List
	out    Normals
}

// fault reports what is wrong with a cell of a row.
func (in *normalsReader) fault(line int, field, kind, what, fix string) {
	in.faults.Add(diag.Fault{File: in.name, Line: line, Field: field, Kind: kind, What: what, Fix: fix})
}

// row reads one normal, its cells by their columns.
func (in *normalsReader) row(line int, cell func(column string) string) {
	day, err := ParseMonthDay(cell(colDate))
	if err != nil {
		in.fault(line, colDate, "no day", err.Error(), "correct the cell")
		return
	}
	f, err := strconv.ParseFloat(cell(colValue), 64)
	// bounds that catch a slip of the pen, no climate
	if err != nil || !(f >= -60 && f <= 130) {
		in.fault(line, colValue, "no temperature", fmt.Sprintf("%q is no temperature between -60 and 130 °F", cell(colValue)), "correct the cell")
		return
	}
	switch measure := strings.ToLower(cell(colMeasure)); measure {
	case "first freeze":
		if day.Month >= time.February && day.Month <= time.July { // a last freeze of spring, most likely: it would call the last cutting before the first
			in.fault(line, colDate, "no first freeze", fmt.Sprintf("%q is no day on which the first freeze after summer comes", cell(colDate)), "give the first one of fall, not the last one of spring")
			return
		}
		chance := 50.0
		if s := cell(colChance); s != "" {
			if chance, err = strconv.ParseFloat(s, 64); err != nil || !(chance >= 0 && chance <= 100) {
				in.fault(line, colChance, "no chance", fmt.Sprintf("%q is no percentage", s), "give 0 to 100, or leave it empty for 50")
				return
			}
		}
		in.out.Freezes = append(in.out.Freezes, Freeze{day, unit.Fahrenheit(f), unit.Percent(chance), cell(colSource)})
	case "soil temperature":
		in.out.Soil = append(in.out.Soil, SoilNormal{day, unit.Fahrenheit(f), cell(colSource)})
	default:
		in.fault(line, colMeasure, "unknown measure", fmt.Sprintf("%q is not known", measure), `write "first freeze" or "soil temperature"`)
	}
}

// ParseFirstCut reads the day of the first cutting as "04-15": in the spring, as the growth of the crop has it.
func ParseFirstCut(s string) (suitability.MonthDay, error) {
	day, err := ParseMonthDay(s)
	if err == nil && (day.Month < time.February || day.Month > time.July) {
		err = fmt.Errorf(`%q is no day of a first cutting in spring; write month and day as "04-15"`, s)
	}
	return day, err
}

// ParseMonthDay reads a day of any year as "11-08". February 29 is refused: most years lack it. time.Parse takes the year 0, which is a
// leap year, so February 29 has to be refused by hand.
func ParseMonthDay(s string) (suitability.MonthDay, error) {
	t, err := time.Parse("01-02", s)
	if err != nil || t.Month() == time.February && t.Day() == 29 {
		return suitability.MonthDay{}, fmt.Errorf(`%q is not a day of every year; write month and day as "11-08"`, s)
	}
	return suitability.MonthDay{Month: t.Month(), Day: t.Day()}, nil
}
