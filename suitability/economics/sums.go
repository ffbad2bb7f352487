package economics

// outcome is the money of ground at one set of values, for an area of a square metre.
type outcome struct {
	once  float64 // cost to lime and establish, undiscounted
	now   float64 // the same, discounted to today
	gain  float64 // over the sod, in a year of the stand
	stand float64 // what one unit of money in each year of the stand is worth today
}

// value is the net present value.
func (o outcome) value() float64 { return o.gain*o.stand - o.now }

// sow works out the money of a zone that is sown after lead years.
func (g *ground) sow(v *values, lead float64) outcome {
	later, need := v.later(lead), v.need.of(g.need)
	n := g.passes(need)
	lime, limeNow := need*(v.v[Lime]+v.v[LimeSpreading])+float64(n)*v.v[LimePass], 0.0
	// counted as equal shares, though the plan spreads full passes first and the rest last
	for pass := range n { // one a year, beginning today
		limeNow += lime / float64(n) * v.later(float64(pass))
	}
	// Samples and lime are paid before the wait, everything else at sowing.
	then := v.drilled + g.fed(v)
	// the stand earns from sowing on: its annuity counts from there and is discounted back to today
	return outcome{once: lime + v.v[SoilSampling] + then, now: limeNow + v.v[SoilSampling] + then*later,
		gain: v.v[g.yield]*v.perTon + v.beside, stand: v.annuity[g.life-LifeSuited] * later}
}

// fed is what fertilizer costs: by the nutrient plan where it has rates for the zone, else what the prices say for an area.
func (g *ground) fed(v *values) float64 {
	if g.feed == nil {
		return v.v[Fertilizer]
	}
	return v.feed.of(Range[float64]{float64(g.feed.money.Low), float64(g.feed.money.Likely), float64(g.feed.money.High)})
}
