package economics

import (
	"rootworthy/suitability"
)

// book is a study in the making.
type book struct {
	r      *suitability.Result
	p      *Prices
	in     *inputs
	valued bool // there is all that a value takes
	likely values
	// at the corners of the ranges, see corner; the same for every ground, so worked out once
	worst, best []values
	grounds     []ground // in the order of the result's zones
	plots       []plot   // in the order of its fields
}

// plot is the ground of a field that is sown together.
type plot struct {
	grounds []*ground
	// until the slowest of its grounds is ready; zero without grounds
	leads Range[Years]
	why   string // why there is none
}

func newBook(r *suitability.Result, p *Prices, o Options) *book {
	b := &book{r: r, p: p, in: inputsOf(p)}
	today, fed := dayOf(r), feeds(p, o.Nutrients)
	// before wants, which asks whether any cost is known
	b.in.fed = len(fed) > 0
	b.valued = len(b.in.wants()) == 0
	b.likely = b.in.at(&picks{})
	b.worst, b.best = b.corner(false), b.corner(true)
	for i := range r.Zones {
		g := groundOf(&r.Zones[i], r.Profile, today)
		if f, ok := fed[g.zone.ID]; ok {
			g.feed = &f
		}
		// Suited ground always has a yield where there is a value at all; of other ground the file may say nothing.
		if g.paid = b.valued && b.in.have[g.yield]; b.valued && !g.paid && g.why == "" {
			g.why = WhyNoYield
		}
		b.grounds = append(b.grounds, g)
	}
	for i := range r.Fields {
		b.plots = append(b.plots, b.choose(&r.Fields[i]))
	}
	return b
}

// leads is how long each field waits for the slowest of its grounds.
func leads(grounds []*ground) Range[Years] {
	var out Range[Years]
	// each end by itself: the zone that is slowest at the likely need may not be so at the high one
	for _, g := range grounds {
		out.Low = max(out.Low, Years(g.lead(g.need.Low)))
		out.Likely = max(out.Likely, Years(g.lead(g.need.Likely)))
		out.High = max(out.High, Years(g.lead(g.need.High)))
	}
	return out
}

// leadAt is how long the plot waits where the lime need stands at a pick.
func (p *plot) leadAt(need pick) float64 {
	lead := 0.0
	for _, g := range p.grounds {
		lead = max(lead, g.lead(need.of(g.need)))
	}
	return lead
}

// valueAt is the value of the whole plot at one set of values, with what the field costs as a whole.
func (p *plot) valueAt(v *values) float64 {
	if len(p.grounds) == 0 {
		return 0
	}
	lead := p.leadAt(v.need)
	// Paid once and when the field is sown, however many of its zones are.
	sum := -v.v[PerField] * v.later(lead)
	for _, g := range p.grounds {
		sum += g.sow(v, lead).value() * float64(g.zone.Area)
	}
	return sum
}
