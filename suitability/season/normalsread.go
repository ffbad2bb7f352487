package season

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

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

// mostNormals is how large a file of normals may be: a row for each day of the year and more.
const mostNormals = 1 << 20

// ReadNormals reads normals from CSV with a heading:
//
//	measure,date,value_f,probability_pct,source
//	first freeze,11-14,28,50,"station normals 1991-2020"
//	soil temperature,10-15,68,,
//
// A row that cannot be read is a fault and left out; ok is false when nothing was read. The error is of reading alone.
func ReadNormals(name string, r io.Reader, faults *diag.List) (n *Normals, ok bool, err error) {
	text, err := io.ReadAll(io.LimitReader(r, mostNormals+1))
	if err != nil {
		return nil, false, err
	}
	if len(text) > mostNormals {
		faults.Add(diag.Fault{File: name, Kind: "too large", What: "more than a megabyte is no list of normals", Fix: "give freeze days and soil temperatures alone"})
		return nil, false, nil
	}
	in := &normalsReader{name: name, faults: faults, at: map[string]int{}}
	in.csv = csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	in.csv.FieldsPerRecord, in.csv.LazyQuotes = -1, true
	if !in.heading() {
		return nil, false, nil
	}
	for {
		cells, err := in.csv.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			in.fault(0, "", "not CSV", err.Error(), "mend the quotes")
			continue
		}
		in.row(cells)
	}
	n = &in.out
	n.Name = name
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
	csv    *csv.Reader
	at     map[string]int // column by name
	out    Normals
}

func (in *normalsReader) fault(line int, field, kind, what, fix string) {
	in.faults.Add(diag.Fault{File: in.name, Line: line, Field: field, Kind: kind, What: what, Fix: fix})
}

// heading reads the first row.
func (in *normalsReader) heading() bool {
	cells, err := in.csv.Read()
	for i, c := range cells {
		in.at[strings.ToLower(strings.TrimSpace(c))] = i
	}
	for _, want := range []string{colMeasure, colDate, colValue} {
		if _, ok := in.at[want]; !ok || err != nil {
			in.fault(1, want, "no column", "the heading lacks it", "write the heading "+strings.Join([]string{colMeasure, colDate, colValue, colChance, colSource}, ","))
			return false
		}
	}
	return true
}

// row reads one normal.
func (in *normalsReader) row(cells []string) {
	line, _ := in.csv.FieldPos(0)
	cell := func(name string) string {
		if i, ok := in.at[name]; ok && i < len(cells) {
			return strings.TrimSpace(cells[i])
		}
		return ""
	}
	if strings.Join(cells, "") == "" {
		return
	}
	day, err := ParseMonthDay(cell(colDate))
	if err != nil {
		in.fault(line, colDate, "no day", err.Error(), "correct the cell")
		return
	}
	f, err := strconv.ParseFloat(cell(colValue), 64)
	if err != nil || !(f >= -60 && f <= 130) {
		in.fault(line, colValue, "no temperature", fmt.Sprintf("%q is no temperature between -60 and 130 °F", cell(colValue)), "correct the cell")
		return
	}
	switch measure := strings.ToLower(cell(colMeasure)); measure {
	case "first freeze":
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

// ParseMonthDay reads a day of any year as "11-08". February 29 is refused: most years lack it.
func ParseMonthDay(s string) (suitability.MonthDay, error) {
	t, err := time.Parse("01-02", s)
	if err != nil || t.Month() == time.February && t.Day() == 29 {
		return suitability.MonthDay{}, fmt.Errorf(`%q is not a day of every year; write month and day as "11-08"`, s)
	}
	return suitability.MonthDay{Month: t.Month(), Day: t.Day()}, nil
}
