package nutrient

// sulfur is rated by a table that has a rating of it, with rates by class in Fixed. Soil tests for it tell little, and no source read here
// has one for alfalfa; tissue tells more (see [TissueRanges]).
func (t *Table) sulfur(s Soil) Need {
	class, err := t.Classify(Sulfur, s)
	if err != nil {
		return refused("", err)
	}
	return t.byClass(Sulfur, class)
}

// byClass returns the rate that Fixed gives a class.
func (t *Table) byClass(n Nutrient, c Class) Need {
	for _, f := range t.Fixed {
		if f.Nutrient == n && f.inClass(c.Name) {
			return Need{Class: c.Name, Notes: c.Notes, Rate: some(f.Amount), Every: f.EveryYears}
		}
	}
	return Need{Class: c.Name, Notes: c.Notes, Rate: some(0)}
}
