package stand

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
	"sync"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

//go:embed scouting.csv
var scoutingCSV string

// Threshold is from which number of insects to act, as one source has it. Sources disagree; each stands by itself. Whether to spray, with what
// and how long before harvest is for the label and the adviser.
type Threshold struct {
	Pest         string
	Kind         Kind
	Unit         string
	From         unit.Opt[float64]     // in Unit; missing where no number was found
	Taller, UpTo unit.Opt[unit.Length] // of the crop, over the first and up to the second; missing where it does not matter
	Also, Act    string
	When         string // common practice, no source
	Source       string
	Status       suitability.Status
}

// The columns are pest, kind, unit, number, height over and up to in inches, also, when, act, source and status.
var thresholds = sync.OnceValue(func() []Threshold {
	all, err := csv.NewReader(strings.NewReader(scoutingCSV)).ReadAll()
	if err != nil {
		panic("scouting.csv is part of the program and does not parse: " + err.Error())
	}
	var out []Threshold
	for _, r := range all[1:] {
		t := Threshold{Pest: r[0], Kind: Kind(r[1]), Unit: r[2], From: optional(r[3]), Also: r[6], When: r[7], Act: r[8], Source: r[9], Status: suitability.Status(r[10])}
		if v, ok := optional(r[4]).Get(); ok {
			t.Taller = unit.Some(unit.Inches(v))
		}
		if v, ok := optional(r[5]).Get(); ok {
			t.UpTo = unit.Some(unit.Inches(v))
		}
		out = append(out, t)
	}
	return out
})

// optional reads a cell that may be empty.
func optional(s string) unit.Opt[float64] {
	if s == "" {
		return unit.None[float64]()
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("scouting.csv is part of the program and does not parse: " + err.Error())
	}
	return unit.Some(v)
}

// Thresholds lists them all, by the order of the year.
func Thresholds() []Threshold { return append([]Threshold(nil), thresholds()...) }

// Scout returns the thresholds that a record has reached. Where they depend on the height of the crop and it is not known, the strictest
// holds. A missing value reaches none.
func Scout(r Record, height unit.Opt[unit.Length]) []Threshold {
	v, ok := r.Value.Get()
	if !ok {
		return nil
	}
	var out []Threshold
	for _, t := range thresholds() {
		from, has := t.From.Get()
		// 1e-9: a count in square metres goes through units and back, and must still reach the number that it is.
		if t.Kind == r.Kind && has && t.fits(height) && inUnit(v, r.Unit, t.Unit) >= from*(1-1e-9) {
			out = append(out, t)
		}
	}
	return out
}

// fits says whether a threshold is for a crop of that height.
func (t Threshold) fits(height unit.Opt[unit.Length]) bool {
	h, ok := height.Get()
	if !ok {
		return true
	}
	upTo, bounded := t.UpTo.Get()
	// -1: without a lower end every height is over it
	return h > t.Taller.Or(-1) && (!bounded || h <= upTo)
}

// inUnit turns a count per area into the threshold's unit; other figures stand as they are.
func inUnit(v float64, from, to string) float64 {
	a, okA := Record{Value: unit.Some(v), Unit: from}.Density()
	one, okB := Record{Value: unit.Some(1.0), Unit: to}.Density()
	// Percent of tips and insects a sweep are of no area: they are compared as written.
	if !okA || !okB {
		return v
	}
	return float64(a / one)
}
