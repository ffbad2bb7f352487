package limeplan

import (
	"slices"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// BasisSurvey is the basis of a figure made from survey values alone.
const BasisSurvey = "survey screening"

// band fills in the figure of a zone: the mean, by percent, of its components' figures.
func band(p *suitability.Profile, components []suitability.ComponentRating, l *suitability.Lime) {
	sum, weight, all := 0.0, 0.0, 0.0
	var floor, ceiling bool
	for i := range components {
		c := &components[i]
		pct := max(0, float64(c.Percent.Or(0)))
		all += pct
		rate, ok := c.Lime.Figure.Get()
		if !ok {
			continue
		}
		sum += float64(rate) * pct
		weight += pct
		if pct > 0 {
			floor = floor || c.Lime.Bound == suitability.AtLeast
			ceiling = ceiling || c.Lime.Bound == suitability.AtMost
			addCaveats(l, c.Lime.Caveats)
		}
	}
	if weight == 0 {
		l.Why = whyNone(components)
		return
	}
	likely := sum / weight
	l.Low = unit.Some(unit.AreaRate(likely * p.Lime.LowFactor.Value))
	l.Likely = unit.Some(unit.AreaRate(likely))
	l.High = unit.Some(unit.AreaRate(likely * p.Lime.HighFactor.Value))
	switch {
	case floor && ceiling:
		l.Notes = append(l.Notes, suitability.LimeBoundsMixed)
	case floor:
		l.Bound = suitability.AtLeast
	case ceiling:
		l.Bound = suitability.AtMost
	}
	if likely == 0 {
		l.Why = whyZero(components)
	}
	if 100*weight < p.Rules.ConfidentRated.Value*max(100, all) {
		l.Notes = append(l.Notes, suitability.LimePartOnly)
	}
}

func addCaveats(l *suitability.Lime, caveats []string) {
	for _, c := range caveats {
		if !slices.Contains(l.Notes, c) {
			l.Notes = append(l.Notes, c)
		}
	}
}

// whyNone is the reason of the largest component, of those that are soil, that no component has a figure.
func whyNone(components []suitability.ComponentRating) string {
	for _, c := range components {
		if !c.Miscellaneous && c.Lime.Why != "" {
			return c.Lime.Why
		}
	}
	return suitability.WhyNothingToShow
}

// whyZero is the reason of the largest component with a figure that none is asked for; where one is zero only because
// the table ends, that.
func whyZero(components []suitability.ComponentRating) string {
	why := ""
	for _, c := range components {
		if c.Lime.Figure.Has() && c.Percent.Or(0) > 0 && (why == "" || c.Lime.Why == suitability.WhyAboveTable) {
			why = c.Lime.Why
		}
	}
	return why
}
