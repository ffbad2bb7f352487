package limeplan

import (
	"slices"
	"strings"

	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
)

// Choices returns what methods say of a sample. Of one method it is its answer. Of several, the answers of those that have
// a figure; a single one where the sample reads the target already, since no method is needed for that, or where none has
// a figure: then the refusal says what each of them lacks.
func Choices(s *lab.Sample, methods []lime.Method, a lime.Ask) []Answer {
	// who chose a method wants its refusal too
	if len(methods) == 1 {
		return []Answer{Ask(s, methods[0], a)}
	}
	var out []Answer
	var lacks []string
	// a method that lacks nothing but refuses the soil says more than one that was not given its measurement: its code replaces this one
	no := &lime.Refusal{Code: lime.NotMeasured, Fix: "ask the laboratory for one of these or for its own recommendation, or give your state's table for the buffer that was read"}
	for _, m := range methods {
		switch x := Ask(s, m, a); {
		case x.Refusal != nil:
			lacks = append(lacks, m.Name+": "+x.Refusal.What)
			if x.Refusal.Code != lime.NotMeasured && no.Code == lime.NotMeasured {
				no.Code, no.Fix = x.Refusal.Code, x.Refusal.Fix
			}
		// only by a pH in water that was measured: a method that reads its own buffer as at the target does not speak for the others
		case x.Need.Why == lime.AtTarget && s.PH.Has() && s.PH.Or(0) >= a.Target:
			// no method was at work, so none is named and no note of one is true
			x.Need.Method, x.Need.Notes = "", nil
			return []Answer{x}
		default:
			out = append(out, x)
		}
	}
	if len(out) == 0 {
		no.What = strings.Join(lacks, "; ")
		a := Of(s)
		a.Refusal = no
		return []Answer{a}
	}
	return out
}

// Askable returns the methods that can be asked without a further decision: those from memory, from a table or to an aluminum
// saturation are left out until the user has decided.
func Askable(a lime.Ask) []lime.Method {
	return slices.DeleteFunc(lime.Methods(), func(m lime.Method) bool {
		return m.Memory && !a.FromMemory || m.Name == "table" && a.Table == nil || m.Name == "al-saturation" && !a.Saturation.Has()
	})
}

// Own returns the laboratory's own figure for a sample: the only one, or the one for alfalfa; ok is false where there is
// none, or several and nobody can tell which. Equal figures for several crops are one figure.
func Own(s *lab.Sample) (g lime.Given, ok bool) {
	given := lime.SoilOf(s).Given
	forAlfalfa := slices.DeleteFunc(slices.Clone(given), func(g lime.Given) bool { return !strings.Contains(strings.ToLower(g.Crop), "alfalfa") })
	if len(forAlfalfa) > 0 {
		given = forAlfalfa
	}
	// any figure that differs from the first makes the advice ambiguous
	for _, g := range given {
		if g.Rate != given[0].Rate {
			return g, false
		}
	}
	if len(given) == 0 {
		return g, false
	}
	return given[0], true
}
