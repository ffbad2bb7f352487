package lab

import (
	"math"
	"testing"
	"time"
)

// The same cell may be one figure, another, or neither, by the decimal mark of the file.
func TestReadFigure(t *testing.T) {
	for _, c := range []struct {
		cell  string
		mark  decimalMark
		want  float64
		bound Bound
		state cellState
	}{
		{"6.4", markUnclear, 6.4, Exactly, cellFigure},
		{" 6.4 ", markPoint, 6.4, Exactly, cellFigure},
		{"6,4", markUnclear, 6.4, Exactly, cellFigure}, // one decimal: no thousands look like that
		{"6,4", markComma, 6.4, Exactly, cellFigure},
		{"6,4", markPoint, 0, Exactly, cellBad},
		{"1,150", markUnclear, 0, Exactly, cellUnclear},
		{"1,150", markPoint, 1150, Exactly, cellFigure},
		{"1,150", markComma, 1.15, Exactly, cellFigure},
		{"0,150", markUnclear, 0.15, Exactly, cellFigure}, // no thousands begin with 0
		{"1.150,5", markComma, 1150.5, Exactly, cellFigure},
		{"1,150.5", markPoint, 1150.5, Exactly, cellFigure},
		{"12,345,678", markPoint, 12345678, Exactly, cellFigure},
		{"1,15,0", markPoint, 0, Exactly, cellBad},
		{"<25.0", markPoint, 25, Below, cellFigure},
		{"< 25", markPoint, 25, Below, cellFigure},
		{"≤0,5", markComma, 0.5, Below, cellFigure},
		{">200", markPoint, 200, Above, cellFigure},
		{"45 VH", markPoint, 45, Exactly, cellFigure},
		{"45VH", markPoint, 45, Exactly, cellFigure},
		{"12 (low)", markPoint, 12, Exactly, cellFigure},
		{"1e3", markPoint, 1000, Exactly, cellFigure},
		{"-3", markPoint, -3, Exactly, cellFigure},
		{"ND", markPoint, 0, Below, cellNotDetected},
		{"n.d.", markPoint, 0, Below, cellNotDetected},
		{"< MDL", markPoint, 0, Below, cellNotDetected},
		{"", markPoint, 0, Exactly, cellEmpty},
		{"N/A", markPoint, 0, Exactly, cellEmpty},
		{"--", markPoint, 0, Exactly, cellEmpty},
		{"Not Tested", markPoint, 0, Exactly, cellEmpty},
		{"abc", markPoint, 0, Exactly, cellBad},
		{"NaN", markPoint, 0, Exactly, cellBad},
		{"Inf", markPoint, 0, Exactly, cellBad},
		{"1e999", markPoint, 0, Exactly, cellBad},
		{"0x10", markPoint, 0, Exactly, cellBad},
		{"1_000", markPoint, 0, Exactly, cellBad},
		{"6.4 6.5", markPoint, 0, Exactly, cellBad},
		{"6..4", markPoint, 0, Exactly, cellBad},
		{"<", markPoint, 0, Below, cellBad},
		{"#DIV/0!", markPoint, 0, Exactly, cellBad},
		{"VH", markPoint, 0, Exactly, cellBad},
	} {
		f := readFigure(c.cell, c.mark)
		if f.state != c.state || f.state == cellFigure && (f.value != c.want || f.bound != c.bound) || f.state == cellNotDetected && f.bound != Below {
			t.Errorf("readFigure(%q, %v) = %+v, want %v, bound %v, state %v", c.cell, c.mark, f, c.want, c.bound, c.state)
		}
		if math.IsNaN(f.value) || math.IsInf(f.value, 0) {
			t.Errorf("readFigure(%q) = %v", c.cell, f.value)
		}
	}
}

// A day that can be read in two ways is unclear until the file shows its order, and never guessed.
func TestReadDay(t *testing.T) {
	const unclear, bad, empty = "unclear", "bad", ""
	for _, c := range []struct {
		cell  string
		order dayOrder
		want  string
	}{
		{"2022-07-08", orderUnclear, "2022-07-08"},
		{"2022-07-08 00:00:00", orderUnclear, "2022-07-08"},
		{"2021-09-28T12:00:00", orderUnclear, "2021-09-28"},
		{"2021-09-28T12:00:00.000Z", orderUnclear, "2021-09-28"},
		{"2022/7/8", orderUnclear, "2022-07-08"},
		{"20220708", orderUnclear, "2022-07-08"},
		{"44750", orderUnclear, "2022-07-08"}, // spreadsheet serial; source: the same set as JSON, whose EventDate is 44750
		{"44750.5", orderUnclear, "2022-07-08"},
		{"8-Jul-2022", orderUnclear, "2022-07-08"},
		{"8 July 22", orderUnclear, "2022-07-08"},
		{"July 8, 2022", orderUnclear, "2022-07-08"},
		{"Jul 8th 2022", orderUnclear, "2022-07-08"},
		{"Friday, July 8, 2022", orderUnclear, "2022-07-08"},
		{"3/14/2022", orderUnclear, "2022-03-14"},
		{"14/3/2022", orderUnclear, "2022-03-14"},
		{"14.3.2022", orderUnclear, "2022-03-14"},
		{"7/7/2022", orderUnclear, "2022-07-07"}, // either way
		{"7/8/2022", orderUnclear, unclear},
		{"7/8/2022", monthFirst, "2022-07-08"},
		{"7/8/2022 14:05", monthFirst, "2022-07-08"},
		{"7/8/22", dayFirst, "2022-08-07"},
		{"3/14/2022", dayFirst, "2022-03-14"}, // no 14th month, whatever the order
		{"22-07-08", orderUnclear, unclear},   // the year may come first
		{"22-07-08", dayFirst, "2008-07-22"},
		{"7/8/85", monthFirst, "1985-07-08"},
		{"2/30/2022", monthFirst, bad},
		{"2022-13-01", orderUnclear, bad},
		{"0000-00-00", orderUnclear, empty},
		{"", orderUnclear, empty},
		{"  /  /    ", orderUnclear, empty},
		{"spring", orderUnclear, bad},
		{"6.4", orderUnclear, bad},
		{"2022", orderUnclear, bad},
		{"7/8", monthFirst, bad},
	} {
		d, state := readDay(c.cell, c.order)
		got := map[dayState]string{dayEmpty: empty, dayUnclear: unclear, dayBad: bad, dayRead: d.Format(time.DateOnly)}[state]
		if got != c.want {
			t.Errorf("readDay(%q, %v) = %q, want %q", c.cell, c.order, got, c.want)
		}
	}
}

// One date that fits only one order settles the column; two that fit different ones settle nothing.
func TestOrderOfDates(t *testing.T) {
	for _, c := range []struct {
		cells []string
		want  dayOrder
	}{
		{[]string{"7/8/2022", "3/14/2022"}, monthFirst},
		{[]string{"7/8/2022", "14/3/2022"}, dayFirst},
		{[]string{"7/8/2022", "14/3/2022", "3/14/2022"}, orderUnclear}, // they contradict each other
		{[]string{"7/8/2022", "2022-03-14"}, orderUnclear},
		{nil, orderUnclear},
	} {
		if got := orderOf(c.cells); got != c.want {
			t.Errorf("orderOf(%q) = %v, want %v", c.cells, got, c.want)
		}
	}
}

// Layers as laboratories and people write them; three figures are no layer.
func TestReadLayer(t *testing.T) {
	for _, c := range []struct {
		cell        string
		top, bottom float64
		unit        measure
		ok          bool
	}{
		{"0-6", 0, 6, unitless, true},
		{`0-6"`, 0, 6, inches, true},
		{"0 - 8 in", 0, 8, inches, true},
		{"0 to 15 cm", 0, 15, centimetres, true},
		{"15–30cm", 15, 30, centimetres, true},
		{"6 inches", 0, 6, inches, true},
		{"0,5-7,5 cm", 0.5, 7.5, centimetres, true},
		{"deep", 0, 0, unitless, false},
		{"0-6-12", 0, 0, unitless, false},
		{"<6", 0, 0, unitless, false},
	} {
		got, ok := readLayer(c.cell, markUnclear)
		if ok != c.ok || ok && got != (layerText{c.top, c.bottom, c.unit}) {
			t.Errorf("readLayer(%q) = %+v, %v, want %v to %v %v", c.cell, got, ok, c.top, c.bottom, c.unit)
		}
	}
	if l, ok := layerInID("DS4-A5 10-20"); !ok || l != (layerText{10, 20, unitless}) {
		t.Errorf("layerInID = %+v, %v", l, ok)
	}
	for _, id := range []string{"North 40", "2022-07", "A 7-3", "B 1-2-3", "X -5", ""} {
		if l, ok := layerInID(id); ok {
			t.Errorf("layerInID(%q) = %+v: that is no layer", id, l)
		}
	}
}
