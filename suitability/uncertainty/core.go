package uncertainty

import (
	"math"
	"math/rand/v2"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Bag returns the pH of surface and subsoil that a laboratory would read of a bag of n cores, taken all over a drawn zone;
// missing where no core meets a soil with a pH.
func (g *Ground) Bag(d *Draw, n int, r *rand.Rand) (surface, subsoil unit.Opt[float64]) {
	var top, deep, tops, deeps float64
	// Each core falls on some soil of the zone by its share; the bag is their mean, as the laboratory mixes it.
	for range n {
		i := pickShare(d.share, r)
		// a core in ground that the survey does not describe tells nothing that could be drawn
		if i < 0 {
			continue
		}
		// an earlier test is what is believed, not what is there: the bag meets the ground that the test may be off from
		a, b := g.phOf(d, i)
		if x, ok := a.Get(); ok {
			top, tops = top+x, tops+1
		}
		if x, ok := b.Get(); ok {
			deep, deeps = deep+x, deeps+1
		}
	}
	return g.read(top, tops, r), g.read(deep, deeps, r)
}

// read is the laboratory's reading of the sum of n cores. Missing without a core.
func (g *Ground) read(sum, n float64, r *rand.Rand) unit.Opt[float64] {
	miss := r.NormFloat64() // also where it is not needed, so that draws stay in step
	if n == 0 {
		return unit.None[float64]()
	}
	return unit.Some(sum/n + BagSD(int(n))*miss)
}

// pickShare returns a component with the chance of its share; -1 for what is left of the whole.
func pickShare(share []float64, r *rand.Rand) int {
	u := r.Float64()
	for i, s := range share {
		// the shares are laid end to end, and u falls into one of them
		if u -= s; u < 0 {
			return i
		}
	}
	return -1
}

// After returns the class that a rating gives the zone once surface and subsoil were tested. A missing test leaves the
// zone's own value: an earlier test's, or the survey's.
func (g *Ground) After(surface, subsoil unit.Opt[float64]) suitability.Class {
	var s Chances
	// What the survey does not describe no test can rate.
	s[suitability.NotRated] = g.rest
	for _, c := range g.components {
		top, deep := g.believed(c, surface, subsoil)
		s[c.judge(g.profile, top, deep, suitability.NotRated).class] += c.share
	}
	return g.dominant(s)
}

// Table returns the need of the zone by the screening table, once its surface was tested; a missing test leaves the zone's
// own value, and a need that has no figure is missing.
func (g *Ground) Table(surface unit.Opt[float64]) (need unit.Opt[unit.AreaRate]) {
	sum, weight := 0.0, 0.0
	for _, c := range g.components {
		top, _ := g.believed(c, surface, unit.None[float64]())
		// a component without a figure is left out of the mean, as in the screening band
		if x, ok := c.reading.Lime(top).Get(); ok {
			sum += float64(x) * c.share
			weight += c.share
		}
	}
	if weight == 0 {
		return need
	}
	return unit.Some(unit.AreaRate(sum / weight))
}

// believed is the pH that a component is rated at: the new test, else an earlier one, else the survey's.
func (g *Ground) believed(c *component, surface, subsoil unit.Opt[float64]) (top, deep unit.Opt[float64]) {
	// what a rating does with a test: it stands for every soil of the zone, whichever was dug
	top, deep = c.reading.Found()
	switch {
	case surface.Has():
		top = surface
	case g.top.ok:
		top = unit.Some(g.top.ph)
	}
	switch {
	case subsoil.Has():
		deep = subsoil
	case g.deep.ok:
		deep = unit.Some(g.deep.ph)
	}
	return top, deep
}

// BufferTest draws what a laboratory's lime test makes of a true need.
func BufferTest(need unit.AreaRate, r *rand.Rand) unit.AreaRate {
	// A test never asks for less than nothing, however far it is off.
	return need * unit.AreaRate(math.Max(0, 1+limeSD*r.NormFloat64()))
}
