package economics

import (
	"math"
	"slices"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Of works out the money of a run. Nothing of the run is worked out anew: areas, classes, lime and dates are those of the result.
func Of(r *suitability.Result, p *Prices, o Options) *Study {
	b := newBook(r, p, o)
	s := &Study{Prices: p, Wants: b.in.wants(), Left: b.left()}
	for i := range b.grounds {
		s.Zones = append(s.Zones, b.zone(&b.grounds[i]))
	}
	var farm ledger
	// only now is it settled which zones are sown: a zone's own money does not hang on it
	for i := range b.plots {
		plot := &b.plots[i]
		for _, g := range plot.grounds {
			g.sown = true
		}
		s.Fields = append(s.Fields, b.field(i, &farm))
	}
	for i := range s.Zones {
		s.Zones[i].Sow, s.Zones[i].Why = b.grounds[i].sown, b.grounds[i].why
	}
	s.Farm = b.farm(s.Fields, &farm)
	if b.valued {
		s.Bars = b.bars(s.Farm.Area)
		b.draw(s, o)
	}
	return s
}

// zone is a zone as if it were sown alone.
func (b *book) zone(g *ground) Zone {
	z := Zone{ID: g.zone.ID, FieldID: g.zone.FieldID, Class: g.zone.Rating.Class, Floor: g.zone.Lime.Bound == suitability.AtLeast,
		NoLime: g.why == WhyUnsuited && !g.zone.Lime.Likely.Has()}
	if g.bare {
		return z
	}
	z.Lines = b.lines(g)
	if g.feed != nil {
		z.Unfed = g.feed.unknown
	}
	life := b.in.base[g.life]
	z.Life = Range[Years]{Years(life.Low), Years(life.Likely), Years(life.High)}
	// no ledger: the farm is made of fields
	z.Figures = b.figures([]*ground{g}, nil)
	if b.in.have[DiscountRate] && b.in.costed() {
		z.ByYear = unit.Some(byYear(b.once(g), b.in.base[DiscountRate], life))
	}
	return z
}

// byYear spreads a cost over the life of a stand, with interest: dearest by the highest rate and the shortest life.
func byYear(once, rate, life Range[float64]) Range[PerArea] {
	pay := func(once, rate, life float64) PerArea { return PerArea(once * CapitalRecovery(rate, life)) }
	return Range[PerArea]{pay(once.Low, rate.Low, life.High), pay(once.Likely, rate.Likely, life.Likely), pay(once.High, rate.High, life.Low)}
}

// figures adds up grounds that are sown together, and enters them into a farm's ledger too. What a field costs as a whole is not in them.
func (b *book) figures(grounds []*ground, farm *ledger) Figures {
	var f Figures
	var once, gain, value Range[Money]
	var own ledger
	wait, paid := leads(grounds), true
	for _, g := range grounds {
		a := g.zone.Area
		f.Area += a
		once = once.Add(money(b.once(g), a))
		// one zone without a yield leaves the whole without a value; the cost of once is known all the same
		if paid = paid && g.paid; !paid {
			continue
		}
		gain, value = gain.Add(money(b.gain(g), a)), value.Add(money(b.value(g, wait), a))
		own.enter(g, &b.likely, float64(wait.Likely))
		if farm != nil {
			farm.enter(g, &b.likely, float64(wait.Likely))
		}
	}
	if len(grounds) == 0 {
		return f
	}
	f.Lead = unit.Some(wait)
	if b.in.costed() {
		f.Once = unit.Some(once)
	}
	if paid {
		f.Gain, f.Value, f.BreakEven = unit.Some(gain), unit.Some(value), own.breakEven(&b.likely)
	}
	return f
}

// money is an amount for a square metre over an area.
func money(r Range[float64], a unit.Area) Range[Money] {
	m := r.Times(float64(a))
	return Range[Money]{Money(m.Low), Money(m.Likely), Money(m.High)}
}

// field adds up the grounds of a field that are sown together, with what the field costs as a whole.
func (b *book) field(i int, farm *ledger) Field {
	plot := &b.plots[i]
	f := Field{ID: b.r.Fields[i].ID, Why: plot.why, Figures: b.figures(plot.grounds, farm)}
	b.suited(i, &f)
	whole := b.in.base[PerField]
	if len(plot.grounds) == 0 || !b.in.have[PerField] {
		return f
	}
	once := f.Once.Or(Range[Money]{})
	f.Once = unit.Some(once.Add(money(whole, 1)))
	if v, ok := f.Value.Get(); ok {
		cost := b.wholeCost(plot.leads)
		likely := float64(cost.Likely)
		f.Value = unit.Some(v.Less(cost))
		var own ledger
		for _, g := range plot.grounds {
			own.enter(g, &b.likely, float64(plot.leads.Likely))
		}
		own.costs += likely
		// figures entered the zones into the farm's ledger, but not this
		farm.costs += likely
		// anew: the break-even of figures was without the cost of the field
		f.BreakEven = own.breakEven(&b.likely)
	}
	return f
}

// wholeCost is what a field costs as a whole, in today's money when it is sown after the leads; nothing without a price.
// It is worst when it is high and paid early at a low rate, best the other way round.
func (b *book) wholeCost(lead Range[Years]) Range[Money] {
	if !b.in.have[PerField] {
		return Range[Money]{}
	}
	rate, whole := b.in.base[DiscountRate], b.in.base[PerField]
	return Range[Money]{Money(whole.Low * Discount(rate.High, float64(lead.High))), Money(whole.Likely * Discount(rate.Likely, float64(lead.Likely))), Money(whole.High * Discount(rate.Low, float64(lead.Low)))}
}

// suited works out what an area of suited ground costs and what all of it would bring, whether or not it is worth sowing.
func (b *book) suited(i int, f *Field) {
	var once Range[Money]
	var grounds []*ground
	for _, k := range b.r.Fields[i].Zones {
		g := &b.grounds[k]
		switch {
		case g.zone.Rating.Class != suitability.Suited:
		case g.bare:
			f.Unpriced += g.zone.Area
		default:
			f.Suited += g.zone.Area
			once = once.Add(money(b.once(g), g.zone.Area))
			grounds = append(grounds, g)
		}
	}
	// Of ground without a cost figure nobody knows what it would bring; a sum without it would make the field look better or worse than it is.
	if unpaid := func(g *ground) bool { return !g.paid }; len(grounds) > 0 && f.Unpriced <= 0 && !slices.ContainsFunc(grounds, unpaid) {
		lead, value := leads(grounds), Range[Money]{}
		for _, g := range grounds {
			value = value.Add(money(b.value(g, lead), g.zone.Area))
		}
		f.ValueSuited = unit.Some(value.Less(b.wholeCost(lead)))
	}
	if !b.in.costed() {
		return
	}
	// the cost of the field is shared by its suited ground alone, as if nothing else of it were sown
	if p, ok := over(once.Add(money(b.in.base[PerField], 1)), f.Suited); ok {
		f.PerSuited = unit.Some(p)
	}
}

// farm adds up the fields.
func (b *book) farm(fields []Field, l *ledger) Figures {
	var f Figures
	var once, gain, value Range[Money]
	// the farm begins with its first field and is done with its last
	lead := Range[Years]{Low: Years(math.Inf(1))}
	for i := range fields {
		x := &fields[i]
		if !(x.Area > 0) {
			continue
		}
		f.Area += x.Area
		once, gain, value = once.Add(x.Once.Or(Range[Money]{})), gain.Add(x.Gain.Or(Range[Money]{})), value.Add(x.Value.Or(Range[Money]{}))
		w := x.Lead.Or(Range[Years]{})
		lead = Range[Years]{min(lead.Low, w.Low), max(lead.Likely, w.Likely), max(lead.High, w.High)}
	}
	if !(f.Area > 0) {
		return f
	}
	f.Lead = unit.Some(lead)
	if b.in.costed() {
		f.Once = unit.Some(once)
	}
	if b.valued {
		f.Gain, f.Value, f.BreakEven = unit.Some(gain), unit.Some(value), l.breakEven(&b.likely)
	}
	return f
}
