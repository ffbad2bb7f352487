package suitability

import (
	"math"

	"rootworthy/soils/unit"
)

// Criterion is one thing that a stand needs. Each has a file of its own.
type Criterion struct {
	Code Code
	Core bool // without it a component is not rated, unless something known is unsuited
	find func(*Profile, *evidence) Finding
}

// Criteria lists all criteria in the order of [Codes].
func Criteria() []Criterion {
	// Core are the four without which nobody can say what ground carries; of the others a missing one is left out of the minimum and
	// listed.
	return []Criterion{
		{Drainage, true, findDrainage},
		{Depth, true, findDepth},
		{WaterTable, false, findWaterTable},
		{Ponding, false, findPonding},
		{Flooding, false, findFlooding},
		{SubsoilPH, true, findSubsoilPH},
		{SurfacePH, true, findSurfacePH},
		{Salinity, false, findSalinity},
		{Sodicity, false, findSodicity},
		{AvailableWater, false, findAvailableWater},
		{Slope, false, findSlope},
	}
}

// findAll looks at a component by every criterion. The findings are in the order of [Codes], one each, also where a criterion has nothing
// to say: indexes into them are kept elsewhere.
func (p *Profile) findAll(e *evidence) []Finding {
	criteria := Criteria()
	out := make([]Finding, len(criteria))
	for i, c := range criteria {
		out[i] = c.find(p, e)
		out[i].Criterion = c.Code
	}
	// needs two findings at once, so no criterion can do it alone
	weighWitnesses(out, e)
	return out
}

// finding judges a measured value by a curve. A missing value, and what is no number, makes a finding that is not rated.
func (c Curve) finding(v unit.Opt[float64]) Finding {
	f := Finding{Unit: c.Unit}
	if x, ok := v.Get(); ok && !math.IsNaN(x) {
		f.Value = unit.Some(roundInput(x))
		f.rate(c.Score(x))
		c.attach(&f, markAbove(f.Class))
	}
	return f
}

// rate gives a finding its score and the class of it, which must never part.
func (f *Finding) rate(score float64) {
	f.Score, f.Class = unit.Some(score), classOf(score)
}

// attach names the breakpoint with the score mark that lies nearest to the value.
func (c Curve) attach(f *Finding, mark float64) {
	// a curve that never comes to the mark (a profile may leave out a class) has no limit to show; an old one must not stay
	f.Limit, f.Source, f.Status = unit.None[float64](), "", ""
	if p, ok := c.limitAt(mark, f.Value.Or(0)); ok {
		f.Limit, f.Source, f.Status = unit.Some(p.Value), p.Source, string(p.Status)
	}
}

// finding judges a class word. A word without a score makes a finding that is not rated.
func (w WordScale) finding(word string) Finding {
	f := Finding{Word: word}
	if s, ok := w.find(word); ok {
		f.rate(s.Score)
		w.attach(&f)
	}
	return f
}

// attach names the word that the next better class begins with.
func (w WordScale) attach(f *Finding) {
	limit := w.limit(f.Word, f.Score.Or(0))
	f.LimitWord, f.Source, f.Status = limit.Word, limit.Source, string(limit.Status)
}
