package nutrient

// lineFor returns the first line of Fixed that holds: one of the nutrient, the stage and the class, with the soil under its figure where it
// names one; nil where none does. asked says whether the stage has a line of the nutrient at all.
func (t *Table) lineFor(n Nutrient, c Class, s Soil, stage Stage) (f *Fixed, asked bool, refusal *Refusal) {
	for i := range t.Fixed {
		f := &t.Fixed[i]
		if f.Nutrient != n || f.Stage != stage {
			continue
		}
		asked = true
		if !f.inClass(c.Name) {
			continue
		}
		if low, refusal := t.below(*f, s); refusal != nil || low {
			return f, true, refusal
		}
	}
	return nil, asked, nil
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
