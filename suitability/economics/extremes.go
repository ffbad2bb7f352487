package economics

import "math"

// extreme puts every input where it does the most good (best) or harm; those whose direction depends on others are left likely: yield,
// life, lime need and discount rate, see [book.corners]. A gain is good when high, a cost when low. Rates and amounts have no part that
// says so; of those below, more quality and more nitrogen saved are good, more seed and more potash taken off are bad.
func extreme(best bool) picks {
	var c picks
	good, bad := atLow, atHigh
	if best {
		good, bad = atHigh, atLow
	}
	for i := range c {
		switch Item(i).Part() {
		case Gain:
			c[i].level = good
		case Once, Yearly, Sod:
			c[i].level = bad
		}
	}
	c[RFQGain].level, c[NitrogenSaved].level, c[SeedRate].level, c[PotashTaken].level = good, good, bad, bad
	return c
}

// value returns the least, the likely and the largest value of an area of the zone, sown after the field's leads.
//
// The value is linear in each price, so its extremes lie at their ends. Which end of the yield, the life, the lime need and the rate is the
// worse depends on the rest, so all are tried; of the rate also its likely value. In between rates it is not searched.
func (b *book) value(g *ground, leads Range[Years]) Range[float64] {
	out := One(g.sow(&b.likely, float64(leads.Likely)).value())
	for _, best := range []bool{false, true} {
		for k := range b.corners(best) {
			v := &b.corners(best)[k]
			// corners have the need at its low or its high, never between
			lead := float64(leads.Low)
			// More lime may be more passes, and each pass is a year: the wait goes with the need.
			if v.need.level == atHigh {
				lead = float64(leads.High)
			}
			x := g.sow(v, lead).value()
			out.Low, out.High = math.Min(out.Low, x), math.Max(out.High, x)
		}
	}
	return out
}

// corners returns the values at the bad or the good end of every price, with all ends of the inputs that have no good end.
func (b *book) corners(best bool) []values {
	if best {
		return b.best
	}
	return b.worst
}

func (b *book) corner(best bool) []values {
	var out []values
	c := extreme(best)
	// the yields of all classes move together, and so do the lives: a good year or region is good for all ground
	for _, yield := range []level{atLow, atHigh} {
		for _, life := range []level{atLow, atHigh} {
			for _, need := range []level{atLow, atHigh} {
				for _, rate := range []level{atLow, atLikely, atHigh} {
					c[Yield].level, c[YieldMarginal].level, c[YieldUnsuited].level = yield, yield, yield
					c[LifeSuited].level, c[LifeMarginal].level, c[LifeUnsuited].level = life, life, life
					c[LimeNeed].level, c[DiscountRate].level = need, rate
					out = append(out, b.in.at(&c))
				}
			}
		}
	}
	return out
}

// gain returns the extremes of the yearly gain of an area of the zone.
func (b *book) gain(g *ground) Range[float64] {
	// life, need and rate move nothing here; the corners are taken because they hold every end of the yield and the prices
	of := func(v *values) float64 { return v.v[g.yield]*v.perTon + v.beside }
	out := One(of(&b.likely))
	for _, best := range []bool{false, true} {
		for _, v := range b.corners(best) {
			out.Low, out.High = math.Min(out.Low, of(&v)), math.Max(out.High, of(&v))
		}
	}
	return out
}

// once returns the cost of liming and establishing an area: every price and need at its low, likely and high.
func (b *book) once(g *ground) Range[float64] {
	low, high := extreme(true), extreme(false)
	// No trade-off here: of what is paid once, less lime is always cheaper.
	low[LimeNeed].level, high[LimeNeed].level = atLow, atHigh
	l, h := b.in.at(&low), b.in.at(&high)
	return Range[float64]{g.sow(&l, 0).once, g.sow(&b.likely, 0).once, g.sow(&h, 0).once}
}
