package lime

import "rootworthy/soils/unit"

// alSaturation brings exchangeable aluminum down to a share of the exchange complex. It reaches no pH; the target is not
// looked at.
func alSaturation() Method {
	return Method{
		Name: "al-saturation", Title: "Aluminum saturation (Cochrane)",
		Needs: "aluminum, calcium and magnesium by 1 M KCl; bulk density of the soil as it lies (bulk_density_g_cm3); the saturation that the crop bears",
		Source: "An equation for liming acid mineral soils to compensate crop aluminium tolerance, Tropical Agriculture 1980 " +
			"(abstract; authors Cochrane, Salinas and Sanchez from memory)",
		Range: "mineral soils; saturation asked for from 0 to under 100 %",
		Slice: unit.Some(unit.Depth(20)), require: alRequire,
	}
}

// LimeForAluminum returns the lime, meq/100 g, that brings aluminum down to a share of aluminum, calcium and magnesium.
//
//	1.5 × (Al - share/100 × (Al + Ca + Mg)), with 2.0 in place of 1.5 where that is over Al; not under zero
//
// Source: see [Methods], al-saturation. Range: charges from 0, share from 0 to 100.
func LimeForAluminum(al, ca, mg unit.Charge, share unit.Percent) unit.Charge {
	excess := al - unit.Charge(share/100)*(al+ca+mg)
	need := 1.5 * excess
	if need > al {
		need = 2 * excess
	}
	return max(0, need)
}

// Nothing stands in for what was not measured: a cation by another extractant is another quantity.
func alRequire(s Soil, a Ask) (result, error) {
	share, ok := a.Saturation.Get()
	if !ok {
		return result{}, refuse(NotAsked, "give it; no published figure for alfalfa was found",
			"how much aluminum saturation the crop bears is not said")
	}
	if !(share >= 0 && share < 100) {
		return result{}, refuse(BadValue, "give one from 0 to under 100",
			"an aluminum saturation of %g %% is not possible", float64(share))
	}
	if s.Class != Mineral {
		return result{}, refuse(OutsideSoil, "use another method", "the equation is for mineral soils, this one is %s", s.Class)
	}
	al, err := atLeastZero(s.Aluminum, "exchangeable aluminum")
	if err != nil {
		return result{}, err
	}
	ca, err := atLeastZero(s.Calcium, "exchangeable calcium by KCl")
	if err != nil {
		return result{}, err
	}
	mg, err := atLeastZero(s.Magnesium, "exchangeable magnesium by KCl")
	if err != nil {
		return result{}, err
	}
	density, err := atLeastZero(s.Density, "bulk density")
	if err != nil {
		return result{}, err
	}
	// soil without weight would need no lime, whatever its aluminum
	if density == 0 {
		return result{}, refuse(BadValue, "correct it", "a bulk density of 0 is not possible")
	}
	// meq/100 g × bulk density are t/ha, which is a slice of 20 cm: 0.5 g/kg × 2000 t/ha
	need := LimeForAluminum(al, ca, mg, share)
	r := result{rate: Of(need.Content(unit.CarbonateEquivalent).Over(unit.SoilOver(20, density)), Carbonate), notes: []string{NoteAluminumOnly}}
	// the soil is at the share that was asked for, or under it
	if need == 0 {
		r.why = AtTarget
	}
	return r, nil
}
