package nutrient

import "rootworthy/soils/unit"

// sulfur is rated by a table that has a rating of it, with rates by class in Fixed. Soil tests for it tell little, and no source read here
// has one for alfalfa; tissue tells more (see [TissueRanges]).
func (t *Table) sulfur(s Soil, a Ask) Need {
	class, err := t.Classify(Sulfur, s)
	if err != nil {
		return refused("", err)
	}
	return t.byClass(Sulfur, class, s, a.Stage)
}

// byClass returns the rate that the first line of Fixed which holds gives: one of the stage and the class, and under its figure where it
// names one.
func (t *Table) byClass(n Nutrient, c Class, s Soil, stage Stage) Need {
	// a class that no line of the stage names asks for nothing; where the stage has no line at all, that says nothing of the soil
	out := Need{Class: c.Name, Notes: c.Notes, Rate: some(0), Why: NotAsked}
	for _, f := range t.Fixed {
		if f.Nutrient != n || f.Stage != stage {
			continue
		}
		out.Why = ""
		if !f.inClass(c.Name) {
			continue
		}
		low, refusal := t.below(f, s)
		if refusal != nil {
			return Need{Class: c.Name, Refusal: refusal}
		}
		if low {
			out.Rate, out.Every = unit.Some(f.Amount), f.EveryYears
			return out
		}
	}
	return out
}

// below says whether the soil lies under the figure of a line, always so for a line without one. The figure is that of the nutrient's
// rating; a class that the laboratory printed does not stand in for it.
func (t *Table) below(f Fixed, s Soil) (bool, *Refusal) {
	if !f.Below.Has() {
		return true, nil
	}
	if s.Sample == nil {
		return false, notMeasured(f.Nutrient)
	}
	n, refusal := t.rating(f.Nutrient).choose(t, s.Sample)
	if refusal != nil {
		return false, refusal
	}
	return f.under(n, s.Sample)
}
