package suitability

import "rootworthy/soils/unit"

// LimeTest says how the lime of a zone follows from laboratory samples: the plain mean of what the method asks for, each
// sample once, whatever it weighs or covers.
type LimeTest struct {
	Method  string                  `json:"method"`                 // its name in lime.Methods; "" when none was chosen
	Samples []SampleLime            `json:"samples"`                // in the order of the files
	Error   unit.Opt[unit.Fraction] `json:"error"`                  // of the zone's figure either way; missing where no source says
	Slice   unit.Opt[unit.Depth]    `json:"slice_cm"`               // that the method's figure is for
	Depth   unit.Opt[unit.Depth]    `json:"depth_cm"`               // that the zone's figure is for
	Credit  unit.AreaRate           `json:"credit_kg_m2,omitempty"` // mean taken off for lime spread before
	Fit     *SurfaceFit             `json:"surface,omitempty"`      // the figure was read from a surface through the field's samples
}

// SampleLime is what the method says of one sample.
type SampleLime struct {
	ID      string                  `json:"sample"`
	PH      unit.Opt[unit.PH]       `json:"ph"`                // in water
	PHCaCl2 unit.Opt[unit.PHCaCl2]  `json:"ph_cacl2,omitzero"` // in 0.01 M calcium chloride, where that was measured instead
	Figure  unit.Opt[unit.AreaRate] `json:"figure_kg_m2"`      // in the quality of the zone's figure; missing when refused
	Why     string                  `json:"why,omitempty"`     // of [LimeWhys], where Figure is zero
	Refusal string                  `json:"refusal,omitempty"` // of lime.Refusals, where it is missing
	What    string                  `json:"what,omitempty"`    // the refusal in a sentence
}

// Mean returns the plain mean of the samples that have a figure; 0 where none has.
func (t *LimeTest) Mean() unit.AreaRate {
	var sum unit.AreaRate
	// a refused sample is left out of the mean, not counted as asking for nothing
	for _, s := range t.Samples {
		sum += s.Figure.Or(0)
	}
	return sum / unit.AreaRate(max(t.Figures(), 1))
}

// Figures returns how many samples have a figure.
func (t *LimeTest) Figures() int {
	n := 0
	for _, s := range t.Samples {
		if s.Figure.Has() {
			n++
		}
	}
	return n
}

// Range returns the least and the largest figure of the samples; ok is false without one.
func (t *LimeTest) Range() (least, most unit.AreaRate, ok bool) {
	for _, s := range t.Samples {
		if x, has := s.Figure.Get(); has {
			if !ok {
				least, most, ok = x, x, true
			}
			least, most = min(least, x), max(most, x)
		}
	}
	return least, most, ok
}
