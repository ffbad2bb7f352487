package words

import "rootworthy/suitability"

// deciding returns the component that speaks for a zone's class, and what it found by the criterion that limits: of the
// components in the winning class with that limiting factor the one with the largest percent. ok is false when nothing
// limits, or no component is recorded.
func deciding(r *suitability.UnitRating, today bool) (c *suitability.ComponentRating, f *suitability.Finding, ok bool) {
	class, limiting := r.Class, r.Limiting
	if today {
		class, limiting = r.ClassToday, r.LimitingToday
	}
	// An empty limit is ground that nothing holds back.
	if limiting == "" {
		return nil, nil, false
	}
	for i := range r.Components {
		x := &r.Components[i]
		xClass, xLimiting := x.Class, x.Limiting
		if today {
			xClass, xLimiting = x.ClassToday, x.LimitingToday
		}
		// The first of equal percents stays; one whose percent is not recorded counts as nothing.
		if xClass == class && xLimiting == limiting && (c == nil || x.Percent.Or(0) > c.Percent.Or(0)) {
			c = x
		}
	}
	if c == nil {
		return nil, nil, false
	}
	f = findingOf(c, limiting)
	return c, f, f != nil
}

// findingOf returns what a component was found to have by one criterion; nil when it was not looked at.
func findingOf(c *suitability.ComponentRating, code suitability.Code) *suitability.Finding {
	for i := range c.Findings {
		if c.Findings[i].Criterion == code {
			return &c.Findings[i]
		}
	}
	return nil
}
