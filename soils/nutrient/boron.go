package nutrient

import (
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// boron is spread over the ground and never put in the seed row, where it kills seedlings (from memory, not checked). A source that
// names a soil test asks for it; one that names none asks the same of every soil.
func (t *Table) boron(s Soil, a Ask) Need {
	for _, f := range t.Fixed {
		// the first line of the stage holds
		if f.Nutrient != Boron || f.Stage != a.Stage {
			continue
		}
		rate, refusal := f.boronRate(s)
		if refusal != nil {
			return Need{Refusal: refusal}
		}
		out := Need{Rate: unit.Some(rate), Every: f.EveryYears}
		if rate > 0 {
			out.Notes = []string{NotInSeedRow}
		}
		return out
	}
	return Need{Refusal: refuse(NotRated, "take the rate from the laboratory's own report", "%s does not speak of boron", t.Name)}
}

// boronRate returns the rate, zero where the test is at the source's figure or above.
func (f Fixed) boronRate(s Soil) (unit.AreaRate, *Refusal) {
	if !f.Below.Has() {
		return f.Amount, nil
	}
	for _, n := range boronFigures(s) {
		low, refusal := f.under(n, s.Sample)
		if refusal != nil || !low {
			return 0, refusal
		}
		return f.Amount, nil
	}
	return 0, notMeasured(Boron)
}

// under says whether a figure lies below the one that the line names; the line must name one.
func (f Fixed) under(n lab.Nutrient, s *lab.Sample) (bool, *Refusal) {
	mass, refusal := byMass(n, s)
	if refusal != nil {
		return false, refusal
	}
	v, ok := mass.Value.Get()
	over := v.Over(unit.PlowSlice)
	// A printed 3.1 comes back as 3.1 less a rounding of binary fractions.
	low := over < f.Below.Or(0)*(1-1e-9)
	switch {
	// "<0.5" is below any limit over it, and ">3" is not below one under it; the rest says nothing of the limit
	case !ok || mass.Bound == lab.Below && !low || mass.Bound == lab.Above && low:
		return false, refuse(BeyondDetection, "ask the laboratory for the figure", "%s is beyond what the method can tell", f.Nutrient)
	case !(v >= 0):
		return false, refuse(BadValue, "correct the figure", "%s of %g is not possible", f.Nutrient, float64(v))
	}
	return low, nil
}

// boronFigures returns the sample's figures. The source that names a limit does not say its extractant, so where there are
// several none is taken.
func boronFigures(s Soil) []lab.Nutrient {
	if s.Sample == nil {
		return nil
	}
	var out []lab.Nutrient
	for _, n := range s.Sample.Nutrients {
		if n.Element == lab.Boron && (n.ByMass.Measured() || n.ByVolume.Measured()) {
			out = append(out, n)
		}
	}
	// which reads as not measured: one figure is needed that is surely the one
	if len(out) > 1 {
		return nil
	}
	return out
}
