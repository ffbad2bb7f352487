package whatif

import (
	"fmt"
	"slices"

	"rootworthy/soils"
	"rootworthy/suitability"
)

// WettestSuited and WettestMarginal return the wettest drainage class that the profile takes as suited, and as
// marginal at least; DrainageUnknown when there is none.
func WettestSuited(p *suitability.Profile) soils.DrainageClass {
	return wettest(p, suitability.SuitedMark)
}
func WettestMarginal(p *suitability.Profile) soils.DrainageClass {
	return wettest(p, suitability.MarginalMark)
}

// wettest goes from the wettest class on, so the first that reaches the mark is the wettest that does.
func wettest(p *suitability.Profile, mark float64) soils.DrainageClass {
	for _, c := range soils.DrainageClasses() {
		if s, ok := scoreOf(p, c); ok && s >= mark {
			return c
		}
	}
	return soils.DrainageUnknown
}

// scoreOf returns the score of a drainage class; ok is false where the profile does not list it.
func scoreOf(p *suitability.Profile, c soils.DrainageClass) (float64, bool) {
	i := slices.IndexFunc(p.Drainage, func(w suitability.WordScore) bool { return w.Word == c.String() })
	if i < 0 {
		return 0, false
	}
	return p.Drainage[i].Score, true
}

// Drainage returns a profile in which ground is suited from the drainage class suited on, and marginal from marginal
// on; p is not changed. Classes drier than well drained keep their scores: they are poor for want of water.
func Drainage(p *suitability.Profile, suited, marginal soils.DrainageClass) (*suitability.Profile, error) {
	if suited > soils.WellDrained || marginal > suited || marginal == soils.DrainageUnknown {
		return nil, fmt.Errorf("drainage: suited from %q and marginal from %q is not possible; the second must not be drier than the first, nor the first drier than %q",
			suited, marginal, soils.WellDrained)
	}
	// a shallow copy, but for the one list that changes: everything else is shared and is not written to
	moved := *p
	moved.Drainage = slices.Clone(p.Drainage)
	for i := range moved.Drainage {
		w := &moved.Drainage[i]
		c, ok := soils.ParseDrainage(w.Word)
		if !ok || c > soils.WellDrained {
			continue
		}
		// scores move no more than their new class makes them: just under a mark, or just on it, and not at all where they are in it
		// already
		least, most := 0.0, suitability.MarginalMark-1
		switch {
		case c >= suited:
			least, most = suitability.SuitedMark, 100
		case c >= marginal:
			least, most = suitability.MarginalMark, suitability.SuitedMark-1
		}
		if s := min(max(w.Score, least), most); s != w.Score {
			w.Score, w.Source, w.Status = s, "moved by the user", suitability.Practice
		}
	}
	return &moved, nil
}
