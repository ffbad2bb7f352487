package economics

import "math"

// pick says where in its range an input stands.
type pick struct {
	level level
	q     float64 // where level is drawn: the share of a triangle over the range that lies below, 0…1
}

// level is an end of a range, its likely value, or a place drawn in it. The zero value is likely: picks that nobody touched are likely.
type level uint8

const (
	atLikely level = iota
	atLow
	atHigh
	atDrawn
)

// of returns the value of a range at the pick.
func (p pick) of(r Range[float64]) float64 {
	switch p.level {
	case atLow:
		return r.Low
	case atHigh:
		return r.High
	case atDrawn:
		return triangle(r, p.q)
	}
	return r.Likely
}

// triangle returns the value below which a share q of a triangle over the range lies.
//
// Source: textbook, the inverse of the triangular distribution.
func triangle(r Range[float64], q float64) float64 {
	width := r.High - r.Low
	if !(width > 0) {
		return r.Likely
	}
	// left is the share of the triangle that lies below its peak
	if left := (r.Likely - r.Low) / width; q < left {
		return r.Low + math.Sqrt(q*width*(r.Likely-r.Low))
	}
	return r.High - math.Sqrt((1-q)*width*(r.High-r.Likely))
}

// picks says where every input stands; the zero value has all at their likely value.
type picks [itemCount]pick

// inputs are the figures of the prices, ready for the sums.
type inputs struct {
	base [itemCount]Range[float64] // zero where there is no figure
	have [itemCount]bool
	fed  bool // some ground has its fertilizer priced by a nutrient plan
}

func inputsOf(p *Prices) *inputs {
	in := &inputs{}
	for _, i := range Items() {
		if x, ok := p.Of(i); ok {
			in.base[i], in.have[i] = x.Value, true
		}
	}
	// an amount without the price that it is multiplied by is set to zero too, so that moving it moves nothing and has no bar
	if !in.have[SodBeforeNitrogen] { // then what the sod earns is after its nitrogen: none is saved beyond
		in.base[NitrogenSaved] = Range[float64]{}
	}
	if !in.have[Potash] {
		in.base[PotashTaken] = Range[float64]{}
	}
	if !in.have[RFQPoint] {
		in.base[RFQGain] = Range[float64]{}
	}
	return in
}

// costed says whether any cost of liming and establishing is known. Without one a sum of costs would be zero, which nobody meant.
func (in *inputs) costed() bool {
	for _, i := range Items() {
		if i.Part() == Once && in.have[i] {
			return true
		}
	}
	return in.fed
}

// values are the figures at some picks, with where the needs of lime and fertilizer stand, and what follows from the figures alone: a study
// takes the same values for thousands of zones.
type values struct {
	v          [itemCount]float64
	need, feed pick
	perTon     float64 // what a mass of hay leaves: its price and quality less its harvest and the potash in it
	beside     float64 // what ground gains in a year besides hay, over the sod
	drilled    float64 // what sowing costs, but for fertilizer
	// kept so that discounting in a draw takes one exponential and no logarithm
	growth  float64    // logarithm of a year's interest
	annuity [3]float64 // of the lives of suited, marginal and unsuited ground
}

// at puts every input where the picks say.
func (in *inputs) at(c *picks) values {
	out := values{need: c[LimeNeed], feed: c[Fertilizer]}
	for i := range in.base {
		out.v[i] = c[i].of(in.base[i])
	}
	v := &out.v
	out.perTon = v[Hay] + v[Quality] + v[RFQPoint]*v[RFQGain] - v[Harvest] - v[Potash]*v[PotashTaken]
	out.beside = v[Nitrogen]*v[NitrogenSaved] - v[Upkeep] - v[Insects] - v[OtherYearly] - v[SodBeforeNitrogen] - v[SodAfterNitrogen]
	out.drilled = v[Seed]*v[SeedRate] + v[Inoculant] + v[SodSuppression] + v[Drilling] + v[OtherOnce]
	out.growth = math.Log1p(v[DiscountRate])
	for k := range out.annuity {
		out.annuity[k] = Annuity(v[DiscountRate], v[int(LifeSuited)+k])
	}
	return out
}

// later is what a unit of money in some years is worth today; see [Discount].
func (v *values) later(years float64) float64 {
	// what is paid today; spares an exponential
	if years == 0 {
		return 1
	}
	return math.Exp(-v.growth * years)
}

// wants lists the items without which there is no value.
func (in *inputs) wants() []Item {
	var out []Item
	for _, i := range []Item{Hay, Harvest, Yield, DiscountRate} {
		if !in.have[i] {
			out = append(out, i)
		}
	}
	if !in.costed() {
		// any one cost would do; seed stands for all of them
		out = append(out, Seed)
	}
	// either figure of the sod will do; the one before its nitrogen needs the price of nitrogen too
	switch {
	case in.have[SodBeforeNitrogen] && !in.have[Nitrogen]:
		out = append(out, Nitrogen)
	case !in.have[SodBeforeNitrogen] && !in.have[SodAfterNitrogen]:
		out = append(out, SodBeforeNitrogen)
	}
	return out
}
