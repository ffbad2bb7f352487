package uncertainty

import (
	"math/rand/v2"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// outcome is what a draw of a zone came to.
type outcome struct {
	class, today suitability.Class
	need         float64 // kg/m²
	hasNeed      bool
}

// estimate is what all draws of a ground came to.
type estimate struct {
	ground *Ground
	// draws grow on demand: a field may ask for more of them than the zone needed for itself
	rand                *rand.Rand
	draw                Draw
	draws               []outcome
	class, today, spots Chances
	need                unit.Opt[Interval] // kg/m²
	error               float64
}

// at returns draw n; draws are made as they are asked for.
func (e *estimate) at(n int) outcome {
	for len(e.draws) <= n {
		e.ground.drawn(&e.draw, len(e.draws), e.rand)
		need, has := e.draw.Need.Get()
		e.draws = append(e.draws, outcome{e.draw.Class, e.draw.Today, float64(need), has})
	}
	return e.draws[n]
}

// twin is another zone on the same ground: it shares the luck of its soils, and has bodies and tests of its own.
func (e *estimate) twin(k int) *estimate {
	// stream 0 is the ground's own and 1 is left to those who sample it; k counts from 1, so twins begin at 2
	return &estimate{ground: e.ground, rand: e.ground.Rand(uint64(1 + k)), error: e.error}
}

// batch is how many draws are made before the error is looked at again. Looking after every draw would stop at a lucky moment.
const batch = 200

// estimate draws a ground until its chances are known well enough.
func (g *Ground) estimate() *estimate {
	e, o := &estimate{ground: g, rand: g.Rand(0)}, g.options
	var class, today counts
	var spots Chances
	for len(e.draws) < o.Most {
		for range min(batch, o.Most-len(e.draws)) {
			// at fills e.draw, whose shares are read right after
			x := e.at(len(e.draws))
			class[x.class]++
			today[x.today]++
			for k := range spots {
				spots[k] += e.draw.Spots[k]
			}
		}
		e.error = max(class.widest(len(e.draws)), today.widest(len(e.draws)))
		if len(e.draws) >= o.Least && e.error <= o.Error {
			break
		}
	}
	// The score interval is never zero; here all draws agree because nothing can differ.
	if !g.varies {
		e.error = 0
	}
	n := len(e.draws)
	e.class, e.today = class.chances(n), today.chances(n)
	for k := range spots {
		e.spots[k] = spots[k] / float64(n)
	}
	e.need = needs(e.draws)
	return e
}

// needs is the interval of the lime need over the draws that have one.
func needs(draws []outcome) unit.Opt[Interval] {
	var all []float64
	for _, d := range draws {
		if d.hasNeed {
			all = append(all, d.need)
		}
	}
	if i, ok := intervalOf(all); ok {
		return unit.Some(i)
	}
	return unit.None[Interval]()
}
