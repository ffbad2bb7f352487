package nutrient

import "rootworthy/soils/unit"

// magnesium is given with lime where lime is spread, and as fertilizer only where it is low and lime is not.
// Source: University of Georgia, crop codes 025 and 026.
func (t *Table) magnesium(s Soil, a Ask) Need {
	class, err := t.Classify(Magnesium, s)
	if err != nil {
		return refused("", err)
	}
	out := Need{Class: class.Name, Notes: class.Notes, Rate: some(0)}
	switch f, _, refusal := t.lineFor(Magnesium, class, s, a.Stage); {
	case refusal != nil:
		return Need{Class: class.Name, Refusal: refusal}
	// a class that no line of the table names asks for nothing
	case f == nil:
	case f.WithoutLime && a.Lime:
		out.Why = LimeBears
	default:
		out.Rate, out.Every = unit.Some(f.Amount), f.EveryYears
	}
	return out
}
