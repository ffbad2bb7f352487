package lime

import (
	"rootworthy/soils/unit"
)

// georgia is the University of Georgia's lime buffer capacity.
//
//	pure calcium carbonate = LBC at equilibrium × (target - pH) × mass of soil
//	agricultural lime      = the same / 0.73
//
// The laboratory prints 1.5 times instead of 1/0.73 = 1.37 times: its own study of five limes found 1.38 and proposed
// 1.5 for practice. We take what was measured, and only while the product is not known: with an ECCE the product's own
// figure takes its place, never both.
func georgia() Method {
	return Method{
		Name: "georgia-lbc", Title: "Georgia, lime buffer capacity",
		Needs: "lime buffer capacity; pH in water or in 0.01 M calcium chloride",
		Source: "Sonon, Kissel and Vendrell, University of Georgia Extension circular 874 (definition); Thompson, Kissel, Cabrera and Sonon 2010 " +
			"(equilibrium, r² 0.82); University of Georgia thesis (agricultural lime 73 % as effective as reagent calcium carbonate)",
		Range:  "pH 4.5 to 6.5, where titration is near linear (Liu, Kissel, Vendrell and Cabrera 2004); target up to 6.5",
		States: []string{"GA"}, Slice: unit.Some(plowSliceDepth),
		require: georgiaRequire,
	}
}

// plowSliceDepth is the thickness of 2,000,000 lb/ac at the density that laboratories mean, 300,000 lb/ac and inch.
// Source: UC Davis Analytical Laboratory, method 450: 8 in are 2,400,000 lb.
const plowSliceDepth unit.Depth = 2.0e6 / 3.0e5 * 2.54

const (
	georgiaLeast = unit.PH(4.5)
	georgiaMost  = unit.PH(6.5)

	// AgLimeEffect is how effective agricultural lime was against reagent calcium carbonate, the mean of five limes on
	// Georgia soils.
	// Source: University of Georgia, thesis abstract on single-addition titration and the efficiency of agricultural limes.
	AgLimeEffect unit.Fraction = 0.73
)

// AtEquilibrium returns the lime buffer capacity at equilibrium from the one after 30 minutes.
//
//	LBCeq = LBC × (1.4742 + 0.0023 × LBC)
//
// Source: Thompson, Kissel, Cabrera and Sonon 2010 (abstract), r² 0.82. Where a laboratory prints LBCeq, that counts:
// Georgia's own reports of 2022 stand on another line and are 25 to 50 % higher.
// Range: LBC over 0; the abstract states no end.
func AtEquilibrium(lbc unit.LimeBuffering) unit.LimeBufferingEq {
	return unit.LimeBufferingEq(float64(lbc) * (1.4742 + 0.0023*float64(lbc)))
}

// WaterEquivalent returns the pH in water that Georgia reports for one in 0.01 M calcium chloride: 0.6 more.
// Source: SERA-IEG-6, Southern Regional Fact Sheet 3 (2004): soils under 6.0 in water or 5.4 in calcium chloride are titrated;
// the difference is inferred from that pair.
func WaterEquivalent(p unit.PHCaCl2) unit.PH { return unit.PH(p + 0.6) }

// LimeFor returns the pure calcium carbonate that lifts a mass of soil by a difference of pH.
//
//	LBCeq × ΔpH × soil
//
// Source: definition of LBC, mg of calcium carbonate per kg of soil and unit of pH. Range: where titration is linear.
func LimeFor(lbc unit.LimeBufferingEq, lift unit.PH, soil unit.AreaRate) unit.AreaRate {
	return unit.Content(float64(lbc) * float64(lift)).Over(soil)
}

// georgiaRequire needs no buffer pH: the capacity that the laboratory titrates gives the rate to any target in range.
func georgiaRequire(s Soil, a Ask) (result, error) {
	var notes []string
	// a pH in water that was measured goes before one that is inferred
	if c, ok := s.PHCaCl2.Get(); ok && !s.PH.Has() {
		s.PH = unit.Some(WaterEquivalent(c))
		notes = append(notes, NoteWaterPH)
	}
	ph, err := have(s.PH, "pH in water or calcium chloride")
	if err != nil {
		return result{}, err
	}
	// before the ranges: ground at its target needs no method
	if r, ok := noNeed(s, a); ok {
		r.notes = notes
		return r, nil
	}
	if err := between(OutsideTarget, "target pH", a.Target, georgiaLeast, georgiaMost); err != nil {
		return result{}, err
	}
	if err := between(OutsidePH, "pH", ph, georgiaLeast, georgiaMost); err != nil {
		return result{}, err
	}
	// one that the laboratory brought to equilibrium itself goes before the fitted one
	lbc, err := atLeastZero(s.LBCeq, "lime buffer capacity")
	if !s.LBCeq.Has() {
		var early unit.LimeBuffering
		early, err = atLeastZero(s.LBC, "lime buffer capacity")
		lbc = AtEquilibrium(early)
		notes = append(notes, NoteLBCFitted)
	}
	if err != nil {
		return result{}, err
	}
	soil, deep, notes := soilMass(s, a, notes)
	return result{rate: Of(LimeFor(lbc, a.Target-ph, soil), Carbonate), fieldLime: unit.Some(1 / float64(AgLimeEffect)), deep: deep, notes: notes}, nil
}

// soilMass returns the soil to be limed: by depth and density where both are known, else 2,000,000 lb/ac, which is then
// scaled by depth.
func soilMass(s Soil, a Ask, notes []string) (soil unit.AreaRate, deep bool, _ []string) {
	depth, okDepth := a.Depth.Get()
	density, okDensity := s.Density.Get()
	// both or neither: a depth with the standard density would be a third kind of figure
	if okDepth && okDensity && density > 0 {
		return unit.SoilOver(depth, density), true, notes
	}
	return unit.PlowSlice, false, append(notes, NotePlowSlice)
}
