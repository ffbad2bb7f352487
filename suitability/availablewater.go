package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// findAvailableWater judges the water that the root zone holds for plants, down to the hard restriction. Depth without
// a value counts as holding none, so a profile that is described less deep gives a lower bound.
func findAvailableWater(p *Profile, e *evidence) Finding {
	w := e.window(Figure{}, p.Rules.WaterTo)
	water, covered := soils.AvailableWater(e.Horizons, w.To)
	var v unit.Opt[float64]
	if mm, ok := water.Get(); ok {
		v = unit.Some(float64(mm))
	}
	f := p.AvailableWater.finding(v)
	low, high := soils.WaterEnds(e.Horizons, w.To)
	f.span(plain(low), plain(high))
	// a sum, not a mean: half a profile is no estimate of the whole, so what is described at least is said to be at least
	f.Covered, f.AtLeast = cover(covered), v.Has() && covered < w.Thickness()
	return f
}
