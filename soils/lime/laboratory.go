package lime

// laboratory takes the laboratory's own recommendation as given: its own target, slice, credit and quality of lime.
func laboratory() Method {
	return Method{
		Name: "laboratory", Title: "The laboratory's own recommendation",
		Needs:  "a lime recommendation in the laboratory's file",
		Source: "the laboratory",
		Range:  "one recommendation a sample; its target and slice are the laboratory's",
		Credit: false, require: laboratoryRequire,
	}
}

// It asks for nothing else: whatever the laboratory measured stands behind its figure already. The target that the user asks for is not
// looked at, and the note says so.
func laboratoryRequire(s Soil, _ Ask) (result, error) {
	if len(s.Given) == 0 {
		return result{}, refuse(NotMeasured, "choose a method, or ask the laboratory",
			"the file has no lime recommendation for this sample")
	}
	rate := s.Given[0].Rate
	for _, g := range s.Given {
		switch {
		case g.Rate != rate:
			return result{}, refuse(Ambiguous, "leave in the file the one for alfalfa",
				"the laboratory gives several rates: %s, %s", s.Given[0].words(), g.words())
		// x-x is not zero for NaN and for infinity
		case !(g.Rate >= 0) || g.Rate-g.Rate != 0:
			return result{}, refuse(BadValue, "correct it", "a recommendation of %g kg/m² is not possible", float64(g.Rate))
		}
	}
	r := result{rate: Of(rate, AsSold), notes: []string{NoteLaboratory}}
	if rate == 0 {
		r.why = AtTarget
	}
	return r, nil
}

// words says a recommendation in its own words, or in short tons.
func (g Given) words() string {
	text := g.Text
	if text == "" {
		text = figure(g.Rate.ShortTonsPerAcre()) + " short tons/ac"
	}
	if g.Crop != "" {
		text += " for " + g.Crop
	}
	return text
}
