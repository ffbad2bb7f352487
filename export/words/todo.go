package words

import (
	"strings"

	"rootworthy/suitability"
)

// ToDo says what the landowner can do about a zone, in two or three short sentences. It names no product and promises
// nothing. The profile may be nil.
func ToDo(z *suitability.Zone, p *suitability.Profile) string {
	s := []string{classToDo(z, p)}
	if len(z.Rating.HingesOn) > 0 {
		s = append(s, "The pH in the survey cannot settle this. Take a soil sample 12 to 40 in (30 to 100 cm) deep before you decide.")
	}
	return strings.Join(s, " ")
}

// classToDo is what the class and its limit ask for.
func classToDo(z *suitability.Zone, p *suitability.Profile) string {
	r := &z.Rating
	switch r.Class {
	case suitability.Suited:
		return limeToDo(z, p)
	case suitability.Marginal:
		return "A stand may be thin or short-lived here. " + limitToDo(r.Correctable) + limeAfter(z, p)
	case suitability.Unsuited:
		// An acid subsoil is what lime mends in part: only a test at that depth could change the answer.
		if r.Correctable == suitability.Partly {
			return "Leave this part in grass, unless a test of the subsoil says otherwise."
		}
		return "Leave this part in grass."
	}
	// Water, rock or a pit: a soil test would tell nothing.
	if r.WhyNotRated == suitability.WhyMiscellaneous {
		return "Leave it as it is."
	}
	return "Dig here and test the soil before you decide."
}

// limitToDo is what can be done about a limit that does not rule a stand out.
func limitToDo(c suitability.Correctable) string {
	switch c {
	case suitability.Partly:
		return "Lime on top works its way down slowly. Test the subsoil first."
	case suitability.AsDeclaredOnly:
		return "Check that the drains run."
	}
	return "Look at the ground before you spend money on it."
}

// limeAfter adds the lime to what was said before.
func limeAfter(z *suitability.Zone, p *suitability.Profile) string {
	if z.Lime.Likely.Or(0) > 0 {
		return " If you sow it: " + lower(limeToDo(z, p))
	}
	return ""
}

// limeToDo is the way to a stand on ground that is fit for it.
func limeToDo(z *suitability.Zone, p *suitability.Profile) string {
	switch {
	case z.Lime.Likely.Or(0) <= 0 && byTest(&z.Lime):
		return "By the soil test it needs no lime."
	case z.Lime.Likely.Or(0) <= 0:
		return "Test the soil before you sow. By the survey it needs no lime."
	}
	if byTest(&z.Lime) {
		return "Spread lime by the soil test, wait, and test again. " + sowOnly(z, p)
	}
	return "Test the soil, spread lime as the test says, wait, and test again. " + sowOnly(z, p)
}

// sowOnly is what the retest must read. Where the ground reads that much already, as limed ground between the least and the target does, the
// sentence alone would seem to say that no lime is needed: then what the lime aims at stands beside it.
func sowOnly(z *suitability.Zone, p *suitability.Profile) string {
	s := "Sow only if the pH is " + SowFrom(p) + " or more"
	if x, ok := z.Rating.Values.PHSurface.Get(); ok && float64(x) >= sowFrom(p) && z.Lime.Target > x {
		s += "; the lime is to bring it to " + plain(float64(z.Lime.Target), 2)
	}
	return s + "."
}

// lower begins in the middle of a sentence; all words here begin with a plain letter.
func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// HowSure says how far a class can be trusted, and what makes it so: "fairly sure: no soil test was given".
//
// Ground that is no soil needs no such doubt.
func HowSure(z *suitability.Zone, r Reader) string {
	if z.Rating.WhyNotRated == suitability.WhyMiscellaneous {
		return "no soil here to rate"
	}
	var why []string
	for _, c := range z.Rating.Confidence.Reasons {
		why = append(why, ConfidenceReason(c, r))
	}
	s := Confidence(z.Rating.Confidence.Level, r)
	if len(why) > 0 {
		s += ": " + strings.Join(why, "; ")
	}
	return s
}

// SureMarks shows confidence as one to three marks of three; words stand beside them wherever they are shown.
//
// Ground that is no soil has none.
func SureMarks(z *suitability.Zone) string {
	if z.Rating.WhyNotRated == suitability.WhyMiscellaneous {
		return ""
	}
	switch z.Rating.Confidence.Level {
	case suitability.High:
		return "●●●"
	case suitability.Medium:
		return "●●○"
	}
	return "●○○"
}
