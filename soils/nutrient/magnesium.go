package nutrient

import "rootworthy/soils/unit"

// magnesium is given with lime where lime is spread, and as fertilizer only where it is low and lime is not.
// Source: University of Georgia, crop codes 025 and 026.
func (t *Table) magnesium(s Soil, a Ask) Need {
	class, err := t.Classify(Magnesium, s)
	if err != nil {
		return refused("", err)
	}
	out := Need{Class: class.Name, Notes: class.Notes}
	for _, f := range t.Fixed {
		if f.Nutrient != Magnesium || f.Stage != a.Stage || !f.inClass(class.Name) {
			continue
		}
		low, refusal := t.below(f, s)
		if refusal != nil {
			return Need{Class: class.Name, Refusal: refusal}
		}
		if !low {
			continue
		}
		if f.WithoutLime && a.Lime {
			out.Rate, out.Why = some(0), LimeBears
			return out
		}
		out.Rate, out.Every = unit.Some(f.Amount), f.EveryYears
		return out
	}
	// a class that no line of the table names asks for nothing
	out.Rate = some(0)
	return out
}
