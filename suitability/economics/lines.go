package economics

import "rootworthy/soils/unit"

// lines lists what the sums of a zone are made of, in the order of [Items]. What no price was given for is not among them.
func (b *book) lines(g *ground) []Line {
	var out []Line
	for _, i := range Items() {
		// amounts show as the factor of the price that they go with; the cost of a field is the field's
		if i.Part() == Amount || i == PerField || !b.in.have[i] && !(i == Fertilizer && g.feed != nil) {
			continue
		}
		if l, ok := b.line(g, i); ok {
			out = append(out, l)
		}
	}
	return out
}

// line is one item; ok is false where it does not enter the sums of this ground.
func (b *book) line(g *ground, i Item) (l Line, ok bool) {
	price := b.in.base[i]
	l = Line{Item: i}
	// times sets how much of the item the ground takes, per m², and the money that makes.
	times := func(q Range[float64]) {
		l.Amount = unit.Some(q)
		l.Money = product(price, q)
	}
	base := &b.in.base
	switch i {
	case Lime, LimeSpreading:
		times(g.need)
	case LimePass:
		n := Range[float64]{float64(g.passes(g.need.Low)), float64(g.passes(g.need.Likely)), float64(g.passes(g.need.High))}
		times(n)
	case Seed:
		times(base[SeedRate])
	case Hay, Quality, Harvest:
		times(base[g.yield])
	case RFQPoint:
		times(multiplied(base[RFQGain], base[g.yield]))
	case Potash:
		times(multiplied(base[PotashTaken], base[g.yield]))
	case Nitrogen:
		// Where the sod's earnings are given after its nitrogen, what is saved is in them already; counted again it would be twice.
		if !b.in.have[SodBeforeNitrogen] {
			return l, false
		}
		times(base[NitrogenSaved])
	case Fertilizer:
		l.Money = perAreaOf(price)
		if g.feed != nil {
			l.Money, l.Planned = g.feed.money, true
		}
	default:
		l.Money = perAreaOf(price)
	}
	return l, true
}

// multiplied multiplies two ranges of which the second is not negative: every corner is tried.
func multiplied(a, q Range[float64]) Range[float64] {
	return Range[float64]{min(a.Low*q.Low, a.Low*q.High), a.Likely * q.Likely, max(a.High*q.Low, a.High*q.High)}
}

// product is a price times an amount over ground.
func product(a, q Range[float64]) Range[PerArea] { return perAreaOf(multiplied(a, q)) }

// perAreaOf says that a range is money over ground.
func perAreaOf(r Range[float64]) Range[PerArea] {
	return Range[PerArea]{PerArea(r.Low), PerArea(r.Likely), PerArea(r.High)}
}

// left lists what is in no sum though most stands cost it or gain it: no price was given.
func (b *book) left() []Item {
	var limed, unfed bool
	for i := range b.grounds {
		g := &b.grounds[i]
		if g.bare {
			continue
		}
		// Nobody misses the price of lime on ground that needs none, nor one of fertilizer that a plan has priced.
		limed, unfed = limed || g.need.High > 0, unfed || g.feed == nil
	}
	have := &b.in.have
	// of two items that stand for the same thing one is enough; seldom needed items, such as other costs, are not missed
	missing := map[Item]bool{
		Lime: limed && !have[Lime], LimeSpreading: limed && !have[LimeSpreading] && !have[LimePass],
		Fertilizer: unfed && !have[Fertilizer], Quality: !have[Quality] && !have[RFQPoint], Upkeep: !have[Upkeep] && !have[Potash],
	}
	for _, i := range []Item{SoilSampling, Seed, Inoculant, SodSuppression, Drilling, Insects} {
		missing[i] = !have[i]
	}
	var out []Item
	for _, i := range Items() {
		if missing[i] && (b.valued || i.Part() == Once) { // without a value no yearly item is in any sum
			out = append(out, i)
		}
	}
	return out
}
