package lime

import (
	"math"

	"rootworthy/soils/unit"
)

// pennState is Pennsylvania's method, from exchangeable acidity EA by the modified Mehlich buffer, meq/100 g.
//
//	goal 7.0            EA × 1000 lb/ac
//	goal 6.5, EA ≥ 4    EA × 840
//	goal 6.5, EA < 4    2000, if the pH is under 6.5
//
// The guide says over and under 4.0; at exactly 4.0 we take the upper rule. Its rows cross: to 7.0 an acidity under 2
// asks for less than the flat 2000 to 6.5, so for a pH under 6.5 our figure to 7.0 is never under it. Ground at its goal
// gets none, though the guide's upper rule does not look at pH.
func pennState() Method {
	return Method{
		Name: "penn-state-ea", Title: "Penn State, exchangeable acidity",
		Needs:  "water pH; exchangeable acidity by the modified Mehlich buffer, by mass",
		Source: "Penn State Extension, Agronomy Guide, part 1 section 2, limestone recommendation",
		Range:  "target 6.5 or 7.0; acidity up to 25 meq/100 g (by proposal: the guide gives no end)",
		States: []string{"PA"}, Slice: unit.Some(unit.InchesDeep(7)),
		buffer: Mehlich, require: pennStateRequire,
	}
}

// The guide's figures, pounds of pure fine lime an acre.
const (
	pennTo70  = 1000 // per meq
	pennTo65  = 840  // per meq
	pennFlat  = 2000
	pennEdge  = 4.0  // meq/100 g
	mostEA    = 25.0 // proposal: beyond it a soil is organic or a unit was mistaken
	pennLower = unit.PH(6.5)
	pennUpper = unit.PH(7.0)
)

// pennStateRequire answers for the two targets of the guide; of any between them the guide says nothing.
func pennStateRequire(s Soil, a Ask) (result, error) {
	ph, err := have(s.PH, "water pH")
	if err != nil {
		return result{}, err
	}
	// compared exactly: both are written with one decimal and are what a user types
	if a.Target != pennLower && a.Target != pennUpper {
		return result{}, refuse(OutsideTarget, "ask for 6.5 or 7.0, which its rules are for",
			"target pH %g is neither 6.5 nor 7.0", float64(a.Target))
	}
	if err := between(OutsidePH, "water pH", ph, 3, 10); err != nil {
		return result{}, err
	}
	// after the target, since the guide has no answer for another one even where nothing is needed
	if r, ok := noNeed(s, a); ok {
		return r, nil
	}
	ea, err := atLeastZero(s.Exchangeable, "exchangeable acidity")
	if err != nil {
		return result{}, err
	}
	if ea > mostEA {
		return result{}, refuse(OutsideSoil, "check its unit, or use the laboratory's own recommendation",
			"exchangeable acidity of %g meq/100 g is over %g", float64(ea), mostEA)
	}
	lb, notes := pennPounds(float64(ea), ph, a.Target)
	r := result{rate: Of(unit.AreaRate(lb)*unit.PoundPerAcre, Carbonate), notes: notes}
	if lb == 0 {
		r.why = BufferUnmoved
	}
	return r, nil
}

// pennPounds returns the guide's rules in lb/ac for a pH under the target.
func pennPounds(ea float64, ph, target unit.PH) (lb float64, notes []string) {
	switch {
	// already at 6.5: the rules to 6.5 ask for none
	case ph >= pennLower:
	case ea >= pennEdge:
		lb = ea * pennTo65
	default:
		lb = pennFlat
	}
	if target == pennUpper {
		lb = math.Max(lb, ea*pennTo70)
	}
	if lb == pennFlat {
		notes = append(notes, NoteFlat)
	}
	if ea == pennEdge {
		notes = append(notes, NoteGap)
	}
	return lb, notes
}
