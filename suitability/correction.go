package suitability

// correction says whether the limiting factor of a unit can be corrected. Where the components it limits differ, the
// answer is that of the larger percent, and of equals the lesser hope.
func (p *Profile) correction(components []ComponentRating, class Class, limiting Code, of func(*ComponentRating) side, drained bool) Correctable {
	if limiting == "" {
		return NotLimited
	}
	// NotLimited is not among them: a component that is limited by the factor always has an answer
	answers := []Correctable{No, AsDeclaredOnly, Partly, Yes} // least hope first
	best, most := No, 0.0
	for _, a := range answers {
		sum := 0.0
		for i := range components {
			c := &components[i]
			if s := of(c); s.class == class && s.limiting == limiting && p.correctionOf(c, limiting, drained) == a {
				sum += pct(c.Percent)
			}
		}
		// 1e-9 percent is far over the noise of binary sums and far under any percent that a survey records: equals stay equal, and of
		// them the first, the lesser hope, stays
		if sum > most+1e-9 {
			best, most = a, sum
		}
	}
	return best
}

// correctionOf says whether one factor of one component can be corrected: surface acidity by lime, subsoil acidity in
// part and over years, wetness by works that the user declares; nothing else.
func (p *Profile) correctionOf(c *ComponentRating, code Code, drained bool) Correctable {
	for _, f := range c.Findings {
		if f.Criterion != code {
			continue
		}
		switch {
		case p.correctable(f):
			return Yes
		// on the acid side only: lime raises a pH, and nothing here lowers one
		case code == SubsoilPH && p.SubsoilPH.rising(f.Value.Or(0)):
			return Partly
		case f.Note == NoteDeclared && drained:
			return AsDeclaredOnly
		}
	}
	return No
}
