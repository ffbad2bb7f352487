package suitability

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// RateOptions tunes [Profile.RateUnit]; the zero value rates natural ground of a survey of unknown scale.
type RateOptions struct {
	Drained bool          // the user declares drainage works on the field
	Scale   unit.Opt[int] // denominator of the survey's scale; missing when not recorded
	General bool          // the 1:250,000 general soil map
	Target  Target        // surface pH to lime to; the zero value means the profile's default
	Tested  Tested        // laboratory tests, which take the place of the survey's pH; the zero value means none
	Terrain Terrain       // shape of the ground, whose slope takes the place of the survey's; the zero value means none
}

// RateUnit rates a map unit: every component on its own, then the unit by the class that holds the largest percent.
// The result depends on the content of u alone, not on the order of its components.
func (p *Profile) RateUnit(u soils.MapUnit, opt RateOptions) UnitRating {
	if opt.Target.PH == 0 {
		opt.Target = p.DefaultTarget()
	}
	// in one order, since equals are settled by it and sums of floats depend on it
	components := sorted(u.Components)
	r := UnitRating{Target: opt.Target, Components: make([]ComponentRating, len(components))}
	// beside the ratings and not in them: what a component would be at the ends of its pH is of use for the unit alone
	ends := make([]pHEnds, len(components))
	for i, c := range components {
		r.Components[i], ends[i] = p.rateComponent(c, opt)
	}
	// before weigh, which is shared with Again
	r.Terrain = opt.Terrain
	p.weigh(&r, ends, opt)
	if u.Undescribed {
		r.WhyNotRated = WhyNoTable
	}
	return r
}

// weigh draws the rating of a unit from those of its components. Terrain is set already; everything else of r but Components and Target
// is set here.
func (p *Profile) weigh(r *UnitRating, ends []pHEnds, opt RateOptions) {
	percents := make([]unit.Opt[unit.Percent], len(r.Components))
	for i := range r.Components {
		percents[i] = r.Components[i].Percent
	}
	total := totalPercent(percents)
	r.Shares = shareOut(percents, func(i int) Class { return r.Components[i].Class }, total)
	r.SharesToday = shareOut(percents, func(i int) Class { return r.Components[i].ClassToday }, total)
	r.Class, r.ClassToday = p.dominant(r.Shares), p.dominant(r.SharesToday)
	p.sum(r, opt.Drained)
	r.HingesOn = p.hinges(r.Class, percents, ends, total)
	r.Tested = opt.Tested.beside(r.Components)
	r.Confidence = p.confidence(r, opt)
	if r.Class == NotRated {
		r.WhyNotRated = whyNotRated(r.Components)
	}
	r.Values = values(r.Components)
}

// sum takes limiting factors and scores from the components of the winning classes. Components of other classes have no part: a score
// mixed from good and bad ground would describe neither.
func (p *Profile) sum(r *UnitRating, drained bool) {
	now := func(c *ComponentRating) side { return side{c.Class, c.Limiting, c.Score} }
	today := func(c *ComponentRating) side { return side{c.ClassToday, c.LimitingToday, c.ScoreToday} }
	mean := func(c *ComponentRating) side { return side{c.Class, c.Limiting, c.ScoreMean} }
	r.Score, r.ScoreToday = meanScore(r.Components, r.Class, now), meanScore(r.Components, r.ClassToday, today)
	r.ScoreMean = meanScore(r.Components, r.Class, mean)
	r.Limiting, r.LimitingToday = limiting(r.Components, r.Class, now), limiting(r.Components, r.ClassToday, today)
	r.Correctable = p.correction(r.Components, r.Class, r.Limiting, now, drained)
	r.CorrectableToday = p.correction(r.Components, r.ClassToday, r.LimitingToday, today, drained)
}

// side is a component's rating once corrected, or as it is today.
type side struct {
	class    Class
	limiting Code
	score    unit.Opt[float64]
}

// meanScore is the mean, by percent, over the components of the winning class.
func meanScore(components []ComponentRating, class Class, of func(*ComponentRating) side) unit.Opt[float64] {
	sum, weight := 0.0, 0.0
	for i := range components {
		// a component without a percent has no weight, however it scores
		s, w := of(&components[i]), pct(components[i].Percent)
		if v, ok := s.score.Get(); ok && s.class == class && class != NotRated {
			sum += v * w
			weight += w
		}
	}
	if weight == 0 {
		return unit.None[float64]()
	}
	return unit.Some(roundScore(sum / weight))
}

// limiting is the factor that limits the largest percent of the components of the winning class; of equals the first
// in the order of [Codes].
func limiting(components []ComponentRating, class Class, of func(*ComponentRating) side) Code {
	if class == NotRated {
		return ""
	}
	var best Code
	most := 0.0
	// in the order of codes and by more than noise, so that the first of equals stays
	for _, code := range Codes() {
		sum := 0.0
		for i := range components {
			if s := of(&components[i]); s.class == class && s.limiting == code {
				sum += pct(components[i].Percent)
			}
		}
		if sum > most+1e-9 {
			best, most = code, sum
		}
	}
	return best
}

// sorted puts components in an order that depends on their content alone: falling percent, name, all the rest but keys.
func sorted(components []soils.Component) []soils.Component {
	out := slices.Clone(components)
	slices.SortStableFunc(out, func(a, b soils.Component) int {
		if c := cmp.Or(cmp.Compare(b.Percent.Or(0), a.Percent.Or(0)), strings.Compare(a.Name, b.Name)); c != 0 {
			return c
		}
		return strings.Compare(fingerprint(a), fingerprint(b)) // costly, and seldom needed
	})
	return out
}

// fingerprint is all of a component but its keys, as text. Keys differ from one edition of a survey to the next, and the rating of the
// same soil must not.
func fingerprint(c soils.Component) string {
	c.Key = ""
	// the caller's horizons keep their keys
	c.Horizons = slices.Clone(c.Horizons)
	for i := range c.Horizons {
		c.Horizons[i].Key = ""
	}
	return fmt.Sprint(c)
}

// whyNotRated says why a unit is not rated. Soil that could not be rated outweighs miscellaneous areas: more data could change the answer
// there.
func whyNotRated(components []ComponentRating) string {
	if len(components) == 0 {
		return WhyNoComponents
	}
	for _, c := range components {
		if !c.Miscellaneous {
			return WhyUnderHalf
		}
	}
	return WhyMiscellaneous
}
