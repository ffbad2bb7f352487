package lime

import (
	"math"

	"rootworthy/soils/unit"
)

// adamsEvans is the method of Alabama and its neighbours. How acid saturation H goes with pH is from memory and was not
// checked, so the method answers only where that is allowed.
//
//	requirement = 8000 × (8 - buffer pH) × (H1 - H2) / H1 × 1.5     lb/ac
//
// H1 and H2 are the acid saturation at the soil's pH and at the target. The paper prints Mg/ha with a further factor of 2.24; 8 meq a
// unit of pH × 1000 lb a meq make lb/ac, and so we take it. The 1.5 is what Georgia explains as the weaker effect of agricultural lime
// (Sonon, Thompson and Kissel 2009), so the figure is lime as sold and ECCE is not applied again.
func adamsEvans() Method {
	return Method{
		Name: "adams-evans", Title: "Adams-Evans buffer (acid saturation from memory, not checked)",
		Needs: "water pH; buffer pH by Adams-Evans",
		Source: "Huluka 2005, A modification to the Adams-Evans soil buffer determination solution, equation 2; " +
			"the saturation curve of equation 1 from memory, not checked",
		Range: "pH 4.5 to 6.5 (by proposal); target up to 7.0; exchange capacity under 13 meq/100 g; " +
			"buffer pH 7.0 to 8.0 (the lower end by proposal)",
		States: []string{"AL", "DE"}, Slice: unit.Some(plowSliceDepth), Memory: true,
		buffer: AdamsEvans, require: adamsEvansRequire,
	}
}

// Limits of the method.
const (
	adamsEvansSpent unit.PHAdamsEvans = 7.0 // proposal: 8 meq/100 g, 6 tons and more
	adamsEvansCEC   unit.Charge       = 13  // Huluka: suited to soils under it, of kaolinite and little organic matter
	adamsEvansLarge                   = 5.0 // short tons/ac; Huluka: they usually need less
)

// ExchangeableHydrogen returns the acidity that an Adams-Evans buffer pH stands for, meq/100 g.
//
//	(8.00 - buffer pH) × 8
//
// Source: University of Georgia Agricultural and Environmental Services Laboratories, lime requirement by Adams-Evans
// buffer. Range: buffer pH up to 8.00.
func ExchangeableHydrogen(b unit.PHAdamsEvans) unit.Charge {
	return unit.Charge((unit.AdamsEvansStart - b) * 8)
}

// AdamsEvansForm returns the lime for a buffer pH and the acid saturation now and at the target.
//
//	8000 × (8 - buffer pH) / now × (now - then) × 1.5     lb/ac
//
// Source: Huluka 2005, equation 2, read as lb/ac. Range: 0 < then ≤ now ≤ 1, buffer pH up to 8.
func AdamsEvansForm(b unit.PHAdamsEvans, now, then unit.Fraction) unit.AreaRate {
	return unit.AreaRate(8000*float64(unit.AdamsEvansStart-b)/float64(now)*float64(now-then)*1.5) * unit.PoundPerAcre
}

// AcidSaturation returns the share of the exchange capacity that acidity holds at a pH.
//
//	pH = 7.79 - 5.55 H + 2.27 H²
//
// Source: from memory, not checked (Adams and Evans 1962). Range: pH 4.4 to 7.79, where H falls from 1.2 to 0; outside
// it ok is false.
func AcidSaturation(ph unit.PH) (h unit.Fraction, ok bool) {
	// the quadratic solved for H; of its two roots the one that falls as pH rises
	root := 5.55*5.55 - 4*2.27*(7.79-float64(ph))
	if !(root >= 0 && ph <= 7.79) {
		return 0, false
	}
	return unit.Fraction((5.55 - math.Sqrt(root)) / (2 * 2.27)), true
}

// adamsEvansRequire asks for leave before it looks at any range: whether the formula may be used at all is the user's choice.
func adamsEvansRequire(s Soil, a Ask) (result, error) {
	ph, err := have(s.PH, "water pH")
	if err != nil {
		return result{}, err
	}
	if r, ok := noNeed(s, a); ok {
		return r, nil
	}
	if !a.FromMemory {
		return result{}, refuse(NotAllowed, "allow formulas from memory, or use the laboratory's own recommendation",
			"how acid saturation goes with pH is from memory and was not checked")
	}
	if err := between(OutsideTarget, "target pH", a.Target, 4.5, 7); err != nil {
		return result{}, err
	}
	if err := between(OutsidePH, "water pH", ph, 4.5, 6.5); err != nil {
		return result{}, err
	}
	b, err := have(s.AdamsEvans, "buffer pH by Adams-Evans")
	if err != nil {
		return result{}, err
	}
	if !(b >= adamsEvansSpent && b <= unit.AdamsEvansStart) {
		return result{}, refuse(OutsideBuffer, "check that the buffer is Adams-Evans'",
			"an Adams-Evans buffer pH of %g is outside %g to %g", float64(b), float64(adamsEvansSpent), float64(unit.AdamsEvansStart))
	}
	// not measured passes: the limit is a caution of the paper, no input of the formula
	if cec := s.CEC.Or(0); cec >= adamsEvansCEC {
		return result{}, refuse(OutsideSoil, "use the laboratory's own recommendation",
			"an exchange capacity of %g meq/100 g is not under %g", float64(cec), float64(adamsEvansCEC))
	}
	// both lie in the curve's range, by the limits asked for above
	now, _ := AcidSaturation(ph)
	then, _ := AcidSaturation(a.Target)
	r := result{rate: Of(AdamsEvansForm(b, now, then), AsSold), notes: []string{NoteMemory}}
	switch {
	case r.rate.amount == 0:
		r.why = BufferUnmoved
	case r.rate.amount > unit.ShortTonsPerAcre(adamsEvansLarge):
		r.notes = append(r.notes, NoteLarge)
	}
	return r, nil
}
