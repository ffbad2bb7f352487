package uncertainty

import (
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
	draws               []outcome
	class, today, spots Chances
	need                unit.Opt[Interval] // kg/m²
	error               float64
}

// batch is how many draws are made before the error is looked at again.
const batch = 200

// estimate draws a ground until its chances are known well enough.
func (g *Ground) estimate() *estimate {
	e, o := &estimate{}, g.options
	var class, today counts
	var spots Chances
	var d Draw
	r := g.Rand(0)
	for len(e.draws) < o.Most {
		for range min(batch, o.Most-len(e.draws)) {
			g.Draw(&d, r)
			need, has := d.Need.Get()
			e.draws = append(e.draws, outcome{d.Class, d.Today, float64(need), has})
			class[d.Class]++
			today[d.Today]++
			for k := range spots {
				spots[k] += d.Spots[k]
			}
		}
		e.error = max(class.widest(len(e.draws)), today.widest(len(e.draws)))
		if len(e.draws) >= o.Least && e.error <= o.Error {
			break
		}
	}
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
