package lime

import (
	"math"

	"rootworthy/soils/unit"
)

// ncMehlich is North Carolina's method.
//
//	acidity     = (6.6 - buffer pH) × 4                              meq/100 cm³
//	requirement = acidity × (target - pH) / (6.6 - pH) - credit      short tons/ac
//
// The page's own example (pH 5.0, target 6.0, acidity 1.2) prints 0.76; 1.2 × 0.625 is 0.75, which is what we say.
func ncMehlich() Method {
	return Method{
		Name: "nc-mehlich", Title: "North Carolina, Mehlich buffer acidity",
		Needs:  "water pH; acidity or buffer pH by Mehlich",
		Source: "NCDA&CS Agronomic Division, Lime factors for target pH",
		Range:  "target up to 6.6; buffer pH 4.0 to 6.6 (the lower end by proposal: the page gives none)",
		States: []string{"NC"}, Slice: unit.Some(unit.InchesDeep(8)), SliceMemory: true, Credit: true,
		buffer: Mehlich, require: ncRequire,
	}
}

// Ends of the Mehlich buffer.
const (
	mehlichSpent  unit.PHMehlich = 4.0 // proposal
	mehlichTarget unit.PH        = 6.6 // beyond it the formula divides by nothing
)

// MehlichAcidity returns the acidity that a Mehlich buffer pH stands for.
//
//	(6.6 - buffer pH) × 4
//
// Source: NCDA&CS Agronomic Division, Lime factors for target pH. Range: buffer pH up to 6.6.
func MehlichAcidity(b unit.PHMehlich) unit.VolumeCharge {
	return unit.VolumeCharge((unit.MehlichStart - b) * 4)
}

// AcidityFactor returns the part of the acidity to neutralise to lift a soil from pH now to target.
//
//	(target - now) / (6.6 - now)
//
// Source: NCDA&CS Agronomic Division, Lime factors for target pH.
// Range: now under target, target up to 6.6; outside it ok is false.
func AcidityFactor(now, target unit.PH) (factor unit.Fraction, ok bool) {
	if !(now < target && target <= mehlichTarget) {
		return 0, false
	}
	return unit.Fraction((target - now) / (mehlichTarget - now)), true
}

// ResidualCredit returns what of lime spread before has yet to work: North Carolina lets 8 % a month react in mineral
// soils and 16 % in the others.
//
//	rate × (1 - share × months), not under zero
//
// Source: NCDA&CS Agronomic Division, Lime factors for target pH, prints the shares alone; that they are taken off and
// not added up is our reading: older lime must leave less to credit.
// Range: rate and months from 0.
func ResidualCredit(last Application, c Class) unit.AreaRate {
	share := 0.08
	if c != Mineral {
		share = 0.16
	}
	return last.Rate * unit.AreaRate(math.Max(0, 1-share*last.Months))
}

// ncRequire takes acidity as the laboratory printed it before one worked out from its buffer pH.
func ncRequire(s Soil, a Ask) (result, error) {
	ph, err := have(s.PH, "water pH")
	if err != nil {
		return result{}, err
	}
	if r, ok := noNeed(s, a); ok {
		return r, nil
	}
	// ok is false only where the target is refused on the next line
	factor, ok := AcidityFactor(ph, a.Target)
	if err := between(OutsideTarget, "target pH", a.Target, ph, mehlichTarget); err != nil || !ok {
		return result{}, err
	}
	// no limit of the method: beyond it the figure is no pH of soil
	if err := between(OutsidePH, "water pH", ph, 3, 10); err != nil {
		return result{}, err
	}
	acidity, err := mehlichAcidityOf(s)
	if err != nil {
		return result{}, err
	}
	// meq/100 cm³ make short tons an acre one to one, as the page has it
	r := result{rate: Of(unit.ShortTonsPerAcre(float64(acidity)*float64(factor)), AsSold),
		credit: func(last Application) unit.AreaRate { return ResidualCredit(last, s.Class) }}
	if acidity == 0 {
		r.why = BufferUnmoved
	}
	return r, nil
}

// mehlichAcidityOf returns the laboratory's own acidity, or what its buffer pH stands for.
func mehlichAcidityOf(s Soil) (unit.VolumeCharge, error) {
	if s.MehlichAcidity.Has() {
		return atLeastZero(s.MehlichAcidity, "Mehlich acidity")
	}
	b, err := have(s.Mehlich, "buffer pH by Mehlich")
	if err != nil {
		return 0, err
	}
	if !(b >= mehlichSpent && b <= unit.MehlichStart) {
		return 0, refuse(OutsideBuffer, "check that the buffer is Mehlich's",
			"a Mehlich buffer pH of %g is outside %g to %g", float64(b), float64(mehlichSpent), float64(unit.MehlichStart))
	}
	return MehlichAcidity(b), nil
}
