package nutrientplan

import (
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
)

// zoneRate puts the tests of a zone together for the nutrient n, the i-th of nutrient.Nutrients.
func zoneRate(z *Zone, n nutrient.Nutrient, i int, o Options) Rate {
	for _, a := range z.Advised {
		if a.Nutrient == n {
			return advised(a)
		}
	}
	out := Rate{Nutrient: n}
	if o.Table == nil || len(z.Soils) == 0 {
		out.Refusal = &nutrient.Refusal{Code: nutrient.NotMeasured, What: n.String() + " was not measured", Fix: "have the soil tested for it"}
		return out
	}
	pool := pool{rate: &out}
	for _, s := range z.Soils {
		pool.add(o.Table.Require(s, nutrient.Ask{Stage: o.stage(), Lime: z.Lime})[i])
	}
	pool.finish(len(z.Soils))
	return out
}

// advised takes the laboratory's own rate.
func advised(a Advised) Rate {
	r := Rate{Nutrient: a.Nutrient, Rate: unit.Some(a.Rate), Least: a.Rate, Most: a.Rate, Source: a.Source, Seen: nutrient.Users, Notes: []string{LaboratoryFirst}}
	if a.Rate > 0 {
		r.When = []Application{{"as the laboratory says", a.Rate}}
	} else {
		r.Why = nutrient.Enough
	}
	if a.Nutrient == nutrient.Boron && a.Rate > 0 {
		r.Notes = append(r.Notes, nutrient.NotInSeedRow)
	}
	return r
}

// pool adds up what the tests ask for.
type pool struct {
	rate *Rate
	sum  unit.AreaRate
	n    int
}

func (p *pool) add(need nutrient.Need) {
	r := p.rate
	r.Source, r.Seen = need.Source, need.Seen
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
	r.Least, r.Most = min(r.Least, rate), max(r.Most, rate)
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
	if p.n == 0 || 2*p.n < tests {
		r.When, r.Least, r.Most = nil, 0, 0
		return
	}
	if p.n < tests {
		addOnce(&r.Notes, PartRefused)
	}
	mean := p.sum / unit.AreaRate(p.n)
	r.Rate, r.Refusal = unit.Some(mean), nil
	if mean > 0 {
		r.Why = ""
	}
	for i := range r.When {
		r.When[i].Rate /= unit.AreaRate(p.n)
	}
}

func addOnce(list *[]string, s string) {
	for _, x := range *list {
		if x == s {
			return
		}
	}
	*list = append(*list, s)
}

func mass(r unit.AreaRate, z *Zone) unit.Opt[unit.Mass] { return unit.Some(r.Over(z.Area)) }
