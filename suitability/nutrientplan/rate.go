package nutrientplan

import (
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
)

// zoneRate puts the tests of a zone together for the nutrient n, the i-th of nutrient.Nutrients.
func zoneRate(z *Zone, n nutrient.Nutrient, i int, o Options) Rate {
	// advice and table may stand for one nutrient of one zone, bag by bag
	out := Rate{Nutrient: n}
	pool := pool{rate: &out}
	for _, t := range z.Tests {
		switch a, ok := t.advised(n); {
		// The laboratory knows its own extractant and calibration, so its advice goes before any table.
		case ok:
			pool.add(a.need())
			addOnce(&out.Notes, LaboratoryFirst)
		case o.Table == nil:
			pool.add(nutrient.Need{Refusal: noTable(n)})
		default:
			pool.add(o.Table.Require(t.Soil, nutrient.Ask{Stage: o.stage(), Lime: z.Lime})[i])
		}
	}
	pool.finish(len(z.Tests))
	return out
}

// noTable refuses where the laboratory advises nothing and no table was chosen.
func noTable(n nutrient.Nutrient) *nutrient.Refusal {
	return &nutrient.Refusal{Code: nutrient.NotRated, What: "no table was chosen, and the laboratory advises no " + n.Sold(), Fix: "choose a table, or give the laboratory's rate"}
}

// advised returns what the laboratory advises of a nutrient.
func (t Test) advised(n nutrient.Nutrient) (Advised, bool) {
	for _, a := range t.Advised {
		if a.Nutrient == n {
			return a, true
		}
	}
	return Advised{}, false
}

// need writes advice as a table's need. Boron has the warning that a table's own rate would bring along.
func (a Advised) need() nutrient.Need {
	need := nutrient.Need{Nutrient: a.Nutrient, Rate: unit.Some(a.Rate), Source: a.Source, Seen: nutrient.Users}
	if a.Rate == 0 {
		need.Why = nutrient.Enough
		return need
	}
	need.Parts = []nutrient.Part{{Share: 1, When: "as the laboratory says"}}
	if a.Nutrient == nutrient.Boron {
		need.Notes = []string{nutrient.NotInSeedRow}
	}
	return need
}

// pool adds up what the tests ask for. n counts the tests with a rate, and sum adds these up.
type pool struct {
	rate *Rate
	sum  unit.AreaRate
	n    int
}

// add counts one test in. A refused one leaves its reason, the first of which is kept as long as there is no rate.
func (p *pool) add(need nutrient.Need) {
	r := p.rate
	// Of several tests the last names the source: mostly they are of one table or one report.
	if need.Source != "" {
		r.Source, r.Seen = need.Source, need.Seen
	}
	if need.Class != "" {
		r.Classes = append(r.Classes, need.Class)
	}
	rate, ok := need.Rate.Get()
	if !ok {
		if r.Refusal == nil {
			r.Refusal = need.Refusal
		}
		r.Why = need.Why
		return
	}
	if p.n == 0 {
		r.Least, r.Most = rate, rate
	}
	// The span is told beside the mean: one rate for a zone whose bags ask for 0 and 200 hides that it is two zones.
	r.Least, r.Most = min(r.Least, rate), max(r.Most, rate)
	// the rate of one test may hold for several years; of several the longest is told
	r.Why, r.EveryYears = need.Why, max(r.EveryYears, need.Every)
	p.sum, p.n = p.sum+rate, p.n+1
	for _, part := range need.Parts {
		p.apply(part.When, rate*unit.AreaRate(part.Share))
	}
	for _, n := range need.Notes {
		addOnce(&r.Notes, n)
	}
}

// apply adds an amount to the application of that date, in the order in which dates first appear.
func (p *pool) apply(when string, amount unit.AreaRate) {
	for i := range p.rate.When {
		if p.rate.When[i].When == when {
			p.rate.When[i].Rate += amount
			return
		}
	}
	p.rate.When = append(p.rate.When, Application{when, amount})
}

// finish turns sums into means. Where more than half of the tests are refused there is no rate.
func (p *pool) finish(tests int) {
	r := p.rate
	// A mean of the few that could be read would speak for ground that they do not know.
	if p.n == 0 || 2*p.n < tests {
		r.When, r.Least, r.Most = nil, 0, 0
		return
	}
	if p.n < tests {
		addOnce(&r.Notes, PartRefused)
	}
	mean := p.sum / unit.AreaRate(p.n)
	r.Rate, r.Refusal = unit.Some(mean), nil
	// one bag may have enough while the mean of all asks for some
	if mean > 0 {
		r.Why = ""
	}
	// Bags may part their rates differently; each date gets its mean over all bags, and the dates add up to the rate.
	for i := range r.When {
		r.When[i].Rate /= unit.AreaRate(p.n)
	}
}

// addOnce appends s unless the list holds it.
func addOnce(list *[]string, s string) {
	for _, x := range *list {
		if x == s {
			return
		}
	}
	*list = append(*list, s)
}

// mass is what a rate comes to over the zone.
func mass(r unit.AreaRate, z *Zone) unit.Opt[unit.Mass] { return unit.Some(r.Over(z.Area)) }
