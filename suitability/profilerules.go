package suitability

import "rootworthy/internal/tomltext"

// numberKey says where one number of the profile stands, its unit and what values make sense.
type numberKey struct {
	key, unit   string
	least, most float64
	into        *Figure
}

// readNumbers reads each number into its place and refuses every other key. It is a list and not a loop over the fields of a struct, so
// that unit and bounds stand beside the key.
func readNumbers(t table, numbers []numberKey) {
	if t.keys == nil {
		return
	}
	known := make([]string, len(numbers))
	for i, n := range numbers {
		known[i] = n.key
		*n.into = readFigure(t, n.key, n.unit, n.least, n.most)
	}
	t.only(known...)
}

// readRules reads the numbers of the rating. The bounds are wide: they catch a slip of the decimal point or of the unit, not a judgement
// that somebody else would not share.
func readRules(t table) Rules {
	var r Rules
	readNumbers(t, []numberKey{
		{"surface_to", "cm", 1, 100, &r.SurfaceTo},
		{"subsoil_from", "cm", 1, 200, &r.SubsoilFrom},
		{"subsoil_to", "cm", 1, 300, &r.SubsoilTo},
		{"water_to", "cm", 1, 300, &r.WaterTo},
		{"salts_to", "cm", 1, 300, &r.SaltsTo},
		{"described_to", "cm", 1, 300, &r.DescribedTo},
		{"lime_corrects_from", "pH", 3, 7, &r.LimeCorrectsFrom},
		{"lime_corrects_to", "pH", 3, 8, &r.LimeCorrectsTo},
		{"micronutrients", "pH", 6, 9, &r.Micronutrients},
		// marginal at best: declared works are not seen by the survey, so they never make ground suited
		{"declared_score", "score", MarginalMark, SuitedMark - 1, &r.DeclaredScore},
		{"rated_least", "%", 0, 100, &r.RatedLeast},
		{"confident_winning", "%", 0, 100, &r.ConfidentWinning},
		{"confident_rated", "%", 0, 100, &r.ConfidentRated},
		{"smallest_on_map", "cm²", 0, 100, &r.SmallestOnMap},
		{"coarsest_scale", "denominator", 1000, 1e6, &r.CoarsestScale},
	})
	less(t, "subsoil_from", r.SubsoilFrom, "subsoil_to", r.SubsoilTo)
	less(t, "lime_corrects_from", r.LimeCorrectsFrom, "lime_corrects_to", r.LimeCorrectsTo)
	return r
}

// readLime reads the numbers of the lime plan, with bounds as wide.
func readLime(t table) LimeRules {
	var l LimeRules
	readNumbers(t, []numberKey{
		// below 6.2 no target makes sense for the crop (common practice, no source)
		{"target_least", "pH", 6.2, highestTarget, &l.TargetLeast},
		{"target", "pH", 6.2, highestTarget, &l.Target},
		{"sow_from", "pH", 5, highestTarget, &l.SowFrom},
		{"cap", "short ton/ac", 0.1, 10, &l.Cap},
		{"cap_most", "short ton/ac", 0.1, 10, &l.CapMost},
		{"wait", "months", 0, 60, &l.Wait},
		{"wait_least", "months", 0, 60, &l.WaitLeast},
		{"step", "short ton/ac", 0, 2, &l.Step},
		{"low_factor", "factor", 0, 1, &l.LowFactor},
		{"high_factor", "factor", 1, 10, &l.HighFactor},
	})
	notOver(t, "target_least", l.TargetLeast, "target", l.Target)
	notOver(t, "cap", l.Cap, "cap_most", l.CapMost)
	notOver(t, "wait_least", l.WaitLeast, "wait", l.Wait)
	return l
}

// less reports a number that should be less than another; numbers that could not be read were reported already.
func less(t table, a string, x Figure, b string, y Figure) {
	// a number that was read has a status
	if x.Status != "" && y.Status != "" && x.Value >= y.Value {
		t.Fault(tomltext.Join(t.path, a), "order", "change one of the two", "%v is not less than %s, %v", x.Value, b, y.Value)
	}
}

// notOver is less, but lets the two be equal.
func notOver(t table, a string, x Figure, b string, y Figure) {
	if x.Status != "" && y.Status != "" && x.Value > y.Value {
		t.Fault(tomltext.Join(t.path, a), "order", "change one of the two", "%v is over %s, %v", x.Value, b, y.Value)
	}
}
