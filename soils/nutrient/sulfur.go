package nutrient

import "rootworthy/soils/unit"

// sulfur is rated by a table that has a rating of it, with rates by class in Fixed. Soil tests for it tell little, and no source read here
// has one for alfalfa; tissue tells more (see [TissueRanges]).
func (t *Table) sulfur(s Soil, a Ask) Need {
	class, err := t.Classify(Sulfur, s)
	if err != nil {
		return refused("", err)
	}
	out := Need{Class: class.Name, Notes: class.Notes, Rate: some(0)}
	switch f, asked, refusal := t.lineFor(Sulfur, class, s, a.Stage); {
	case refusal != nil:
		return Need{Class: class.Name, Refusal: refusal}
	case f != nil:
		out.Rate, out.Every = unit.Some(f.Amount), f.EveryYears
	// a class that no line of the stage names asks for nothing; where the stage has no line at all, that says nothing of the soil
	case !asked:
		out.Why = NotAsked
	}
	return out
}
