package limeplan

import (
	"slices"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// BasisSurvey is the basis of a figure made from survey values alone.
const BasisSurvey = "survey screening"

// pool is the components' figures put together by percent.
type pool struct {
	sum, weight, all float64 // kg/m² × percent; percent with a figure; percent of all
	floor, ceiling   bool    // some component's figure is one
}

// gather pools the figures of components, and notes in l what weakens any one that counts. A component without a figure lowers weight but
// not all, so that the part of the zone that the mean speaks for is known.
func gather(components []suitability.ComponentRating, l *suitability.Lime) pool {
	var p pool
	for i := range components {
		c := &components[i]
		pct := max(0, float64(c.Percent.Or(0)))
		p.all += pct
		rate, ok := c.Lime.Figure.Get()
		// a soil that has no part of the zone must not put its caveats on the figure
		if !ok || pct == 0 {
			continue
		}
		p.sum += float64(rate) * pct
		p.weight += pct
		p.floor = p.floor || c.Lime.Bound == suitability.AtLeast
		p.ceiling = p.ceiling || c.Lime.Bound == suitability.AtMost
		addNotes(l, c.Lime.Caveats...)
	}
	return p
}

// band fills in the figure of a zone: the mean, by percent, of the figures of the components that have one. It is a
// floor or a ceiling when one of them is; where one is a floor and another a ceiling, neither holds for the mean.
func band(p *suitability.Profile, components []suitability.ComponentRating, l *suitability.Lime) {
	g := gather(components, l)
	if g.weight == 0 {
		l.Why = whyNone(components)
		return
	}
	likely := g.sum / g.weight
	// the band is not a statistical one: half and twice, by the profile, since the origin of the table is not known
	l.Low = unit.Some(unit.AreaRate(likely * p.Lime.LowFactor.Value))
	l.Likely = unit.Some(unit.AreaRate(likely))
	l.High = unit.Some(unit.AreaRate(likely * p.Lime.HighFactor.Value))
	switch {
	// a mean of "at least" and "at most" is bounded on neither side
	case g.floor && g.ceiling:
		addNotes(l, suitability.LimeBoundsMixed)
	case g.floor:
		l.Bound = suitability.AtLeast
	case g.ceiling:
		l.Bound = suitability.AtMost
	}
	if likely == 0 {
		l.Why = whyZero(components)
	}
	// weight and all are sums of percents; what the survey leaves out of 100 counts as ground without a figure
	if 100*g.weight < p.Rules.ConfidentRated.Value*max(100, g.all) {
		addNotes(l, suitability.LimePartOnly)
	}
}

// addNotes adds the notes that l does not have yet; plan puts them in order at the end.
func addNotes(l *suitability.Lime, notes ...string) {
	for _, n := range notes {
		if !slices.Contains(l.Notes, n) {
			l.Notes = append(l.Notes, n)
		}
	}
}

// whyNone is the reason of the largest component, of those that are soil, that no component has a figure. Components come by falling
// percent, so the first is the largest.
func whyNone(components []suitability.ComponentRating) string {
	for _, c := range components {
		if !c.Miscellaneous && c.Lime.Why != "" {
			return c.Lime.Why
		}
	}
	return suitability.WhyNothingToShow
}

// whyZero is the reason of the largest component with a figure that none is asked for; where one is zero only because
// the table ends, that. Such a zero is the weaker one: it is zero at least, and the reader must know.
func whyZero(components []suitability.ComponentRating) string {
	why := ""
	for _, c := range components {
		if c.Lime.Figure.Has() && c.Percent.Or(0) > 0 && (why == "" || c.Lime.Why == suitability.WhyAboveTable) {
			why = c.Lime.Why
		}
	}
	return why
}
