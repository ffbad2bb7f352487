package nutrient

import (
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// reading finds the figure that the rating may read, over its slice, or the question to ask.
func (r *Rating) reading(t *Table, s *lab.Sample) (lab.Reading[unit.AreaRate], []string, error) {
	none := lab.Reading[unit.AreaRate]{}
	found, refusal := r.choose(t, s)
	if refusal != nil {
		return none, nil, refusal
	}
	var notes []string
	switch {
	case r.Extractant == lab.ExtractantUnknown:
		notes = append(notes, TableExtractantUnsaid)
	case r.ExtractantSeen == Memory:
		notes = append(notes, ExtractantFromMemory)
	}
	mass, refusal := byMass(found, s)
	if refusal != nil {
		return none, nil, refusal
	}
	out := lab.Reading[unit.AreaRate]{Bound: mass.Bound}
	if v, ok := mass.Value.Get(); ok {
		out.Value = unit.Some(v.Over(r.Slice))
	}
	return out, notes, nil
}

// choose picks the figure by the table's extractant. One by another is another quantity.
func (r *Rating) choose(t *Table, s *lab.Sample) (lab.Nutrient, *Refusal) {
	var all []lab.Nutrient
	for _, n := range s.Nutrients {
		if n.Element != r.Nutrient.Element() || !n.ByMass.Measured() && !n.ByVolume.Measured() {
			continue
		}
		// the first figure by the table's own extractant, whatever else was measured
		if n.Extractant == r.Extractant && r.Extractant != lab.ExtractantUnknown {
			return n, nil
		}
		all = append(all, n)
	}
	switch {
	case len(all) == 0:
		return lab.Nutrient{}, notMeasured(r.Nutrient)
	case r.Extractant == lab.ExtractantUnknown && len(all) > 1:
		return lab.Nutrient{}, refuse(SeveralFigures, "leave the one that the laboratory's own table is for",
			"%s was measured by several extractants, and %s does not say which it is for", r.Nutrient, t.Name)
	case r.Extractant == lab.ExtractantUnknown:
		// one figure and a table that does not say: compared, with a note that it is a rough comparison
		return all[0], nil
	}
	return lab.Nutrient{}, r.question(t, all)
}

// question says what to ask about figures by other extractants.
func (r *Rating) question(t *Table, all []lab.Nutrient) *Refusal {
	// a figure whose extractant nobody stated may be the right one, so that is asked before another test is
	for _, n := range all {
		if n.Extractant == lab.ExtractantUnknown {
			return refuse(NotStated, "ask the laboratory: which extractant was it? "+t.Name+" holds for "+r.Extractant.String(),
				"%s is given, but not by which extractant", r.Nutrient)
		}
	}
	return refuse(WrongExtractant, "ask the laboratory for "+r.Extractant.String()+", or for its class and rate for alfalfa; the figures are not converted",
		"%s was measured by %s, and %s holds for %s", r.Nutrient, all[0].Extractant, t.Name, r.Extractant)
}

// byMass returns a figure by mass; one by volume needs the density of the soil in the scoop.
func byMass(n lab.Nutrient, s *lab.Sample) (lab.Reading[unit.Content], *Refusal) {
	if n.ByMass.Measured() {
		return n.ByMass, nil
	}
	out := lab.Reading[unit.Content]{Bound: n.ByVolume.Bound}
	v, ok := n.ByVolume.Value.Get()
	if !ok {
		return out, nil
	}
	density, ok := s.Density.Get()
	if !ok || !(density > 0) {
		return out, refuse(NoDensity, "ask the laboratory for the weight of its scoop, or for the figure by mass", "%s is given by volume", n.Element)
	}
	out.Value = unit.Some(v.ByMass(density))
	return out, nil
}
