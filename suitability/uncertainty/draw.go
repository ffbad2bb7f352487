package uncertainty

import (
	"math/rand/v2"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Draw is a zone as it may be. The zero value is fit for [Ground.Draw], which uses its room again.
type Draw struct {
	Class, Today suitability.Class       // of the zone, by the class that most of it has
	Spots        Chances                 // share of the zone by class once corrected
	Need         unit.Opt[unit.AreaRate] // lime at 100 % CCE to the target; missing where there is no figure
	Factor       float64                 // of Need over the screening table at the same pH
	at           []int                   // step of the pH of each component
	others       []suitability.Class     // worst class of what else has a range, of each component
	share        []float64               // of each component
	top, deep    unit.Opt[float64]       // by tests, for the whole zone
}

// Draw draws the zone again, on its own.
func (g *Ground) Draw(d *Draw, r *rand.Rand) {
	g.draw(d, r, func(*fortune) int { return r.IntN(steps) })
}

// drawn is draw n of the zone: with draw n of every other zone it shares what soils of one name have in common. r draws the rest.
func (g *Ground) drawn(d *Draw, n int, r *rand.Rand) {
	g.draw(d, r, func(f *fortune) int { return f.step(n) })
}

// draw fills d. step says where in its range a thing lies in this draw.
func (g *Ground) draw(d *Draw, r *rand.Rand, step func(*fortune) int) {
	n := len(g.components)
	// One draw is used for thousands of grounds; its room is only made anew where the number of soils changes.
	if len(d.at) != n {
		d.at, d.others, d.share = make([]int, n), make([]suitability.Class, n), make([]float64, n)
	}
	rest := g.mix(d, r)
	d.top, d.deep = g.top.draw(r), g.deep.draw(r)
	d.Factor = g.lime.factor(r, step)
	var now, today Chances
	// what nobody described counts as not rated, as in a rating
	now[suitability.NotRated], today[suitability.NotRated] = rest, rest
	sum, weight := 0.0, 0.0
	for i, c := range g.components {
		// With few bodies of soil most components are in none of them, and judging those would be thrown away.
		if d.share[i] == 0 {
			continue
		}
		// A component without a range has a single step.
		d.at[i] = min(step(c.acid), len(c.surface)-1)
		d.others[i] = c.floor
		for _, w := range c.others {
			// Classes are numbered from the best to the worst, so the largest is the one that limits.
			d.others[i] = max(d.others[i], w.class[step(w.luck)])
		}
		top, deep := g.phOf(d, i)
		v := c.judge(g.profile, top, deep, d.others[i])
		now[v.class] += d.share[i]
		today[v.today] += d.share[i]
		if need, ok := g.need(c, d.at[i], top).Get(); ok {
			sum += need * d.share[i]
			weight += d.share[i]
		}
	}
	d.Spots = now
	d.Class, d.Today = g.dominant(now), g.dominant(today)
	d.Need = g.lime.finish(sum, weight, d.Factor)
}

// mix shares the zone out among the components and returns the share that nobody described.
func (g *Ground) mix(d *Draw, r *rand.Rand) (rest float64) {
	// As mapped: every soil has its percent of the zone, exactly.
	if g.bodies == 0 {
		for i, c := range g.components {
			d.share[i] = c.share
		}
		return g.rest
	}
	clear(d.share)
	one := 1 / float64(g.bodies)
	for range g.bodies {
		if i := g.pick(r); i >= 0 {
			d.share[i] += one
		} else {
			rest += one
		}
	}
	return rest
}

// pick returns a component with the chance of its percent; -1 for what the survey does not describe.
func (g *Ground) pick(r *rand.Rand) int {
	u := r.Float64()
	for i, c := range g.components {
		if u -= c.share; u < 0 {
			return i
		}
	}
	if g.rest <= 1e-9 { // only the noise of sums is left
		return len(g.components) - 1
	}
	return -1
}

// phOf returns the pH of a component in a draw: the tested one where there is one.
func (g *Ground) phOf(d *Draw, i int) (top, deep unit.Opt[float64]) {
	c := g.components[i]
	top, deep = c.surface[d.at[i]], c.subsoil[d.at[i]]
	if d.top.Has() {
		top = d.top
	}
	if d.deep.Has() {
		deep = d.deep
	}
	return top, deep
}

// need is the table's figure at a pH. step is that of the component's pH, top the pH of the draw; the table of steps serves as long as no
// test replaced the pH.
func (g *Ground) need(c *component, step int, top unit.Opt[float64]) unit.Opt[float64] {
	if g.top.ok {
		return plain(c.reading.Lime(top))
	}
	return c.needs[step]
}

// dominant returns the class that shares make of a zone.
func (g *Ground) dominant(s Chances) suitability.Class {
	rated := s[suitability.Suited] + s[suitability.Marginal] + s[suitability.Unsuited]
	// by the profile's own rule, so that a draw is classed as a rating would be
	return g.profile.Dominant(suitability.Shares{Suited: percent(s[suitability.Suited]), Marginal: percent(s[suitability.Marginal]),
		Unsuited: percent(s[suitability.Unsuited]), Rated: percent(rated)})
}
