package suitability

import "rootworthy/soils/unit"

// totalPercent is what shares are shares of: the sum of the components' percents, but at least 100, so that what the
// survey leaves out counts as not rated.
func totalPercent(percents []unit.Opt[unit.Percent]) float64 {
	sum := 0.0
	for _, p := range percents {
		sum += pct(p)
	}
	// more than 100 happens in surveys: the shares are then of what is there, so that they never add up to more than a whole
	return max(100, sum)
}

// pct is the weight of a component: none where the survey gives no percent.
func pct(p unit.Opt[unit.Percent]) float64 { return max(0, float64(p.Or(0))) }

// shareOut adds up the percents of components by class.
func shareOut(percents []unit.Opt[unit.Percent], class func(i int) Class, total float64) Shares {
	// indexed by class, not rated included
	var by [Unsuited + 1]float64
	for i, p := range percents {
		by[class(i)] += pct(p)
	}
	// rounded, so that two halves made of different addends are equal and the tie is seen
	of := func(sum float64) float64 { return roundInput(100 * sum / total) }
	return Shares{Suited: of(by[Suited]), Marginal: of(by[Marginal]), Unsuited: of(by[Unsuited]),
		Rated: of(by[Suited] + by[Marginal] + by[Unsuited])}
}

// dominant returns the class with the largest share, the worse of equals; not rated where too little is rated.
func (p *Profile) dominant(s Shares) Class {
	if s.Rated < p.Rules.RatedLeast.Value || s.Rated == 0 {
		return NotRated
	}
	best := Suited
	for _, c := range []Class{Marginal, Unsuited} {
		// from better to worse with "or equal": of equals the worse, the answer that errs on the safe side
		if s.Of(c) >= s.Of(best) {
			best = c
		}
	}
	return best
}
