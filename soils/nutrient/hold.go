package nutrient

import (
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// Against says how a soil test stands to a level that a source says to hold.
type Against string

// The answers.
const (
	BelowHold Against = "below"
	AtHold    Against = "within"
	AboveHold Against = "above"
)

// Of compares a soil test over the plow slice with the level. Sources of levels do not name their extractant, so it is a rough guide
// and no rate.
func (h Hold) Of(v unit.AreaRate) Against {
	switch {
	case v < h.Least*(1-1e-9): // 1e-9: what a printed figure loses through units and back
		return BelowHold
	// a level without an upper end is never exceeded
	case h.Most > 0 && v > h.Most*(1+1e-9):
		return AboveHold
	}
	return AtHold
}

// HeldLevel is a soil test held against a level.
type HeldLevel struct {
	Hold    Hold
	Value   unit.AreaRate // over the plow slice
	Against Against
	Source  string
	Seen    Seen
}

// Levels holds a soil against every level of the table. What was not measured, or by several extractants, is left out: a level names
// none, so it cannot choose.
func (t *Table) Levels(s Soil) []HeldLevel {
	var out []HeldLevel
	for _, h := range t.Holds {
		if v, ok := onlyFigure(s.Sample, h.Nutrient.Element()); ok {
			out = append(out, HeldLevel{h, v, h.Of(v), t.Source, t.Seen})
		}
	}
	return out
}

// onlyFigure returns the one exact figure of an element, over the plow slice.
func onlyFigure(s *lab.Sample, e lab.Element) (v unit.AreaRate, ok bool) {
	if s == nil {
		return 0, false
	}
	for _, n := range s.Nutrients {
		if n.Element != e {
			continue
		}
		mass, refusal := byMass(n, s)
		c, exact := mass.Exact()
		// ok is true from the second figure on: two of them, and nobody says which one the level is for
		if ok || refusal != nil || !exact || !(c >= 0) {
			return 0, false
		}
		v, ok = c.Over(unit.PlowSlice), true
	}
	return v, ok
}
