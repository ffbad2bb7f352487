package words

import (
	"fmt"
	"strings"

	"rootworthy/suitability"
)

// Lime says what a zone's lime figure is and what it is worth, or why there is none: a sentence, then one for each
// note. The profile may be nil.
func Lime(z *suitability.Zone, r Reader, p *suitability.Profile) string {
	l := &z.Lime
	likely, ok := l.Likely.Get()
	if !ok {
		return "No lime figure: " + LimeWhy(l.Why, r) + "."
	}
	if likely == 0 {
		s := "No lime"
		if l.Why != "" {
			s += ": " + LimeWhy(l.Why, r)
		}
		return withNotes(s, l, r, p)
	}
	if byTest(l) {
		return withNotes(limeByTest(l, r, likely), l, r, p)
	}
	amount := tons(likely.ShortTonsPerAcre())
	// A band of no width is a figure without a band.
	if low, high := l.Low.Or(likely), l.High.Or(likely); low != high {
		amount += fmt.Sprintf(" (%s to %s)", tons(low.ShortTonsPerAcre()), tons(high.ShortTonsPerAcre()))
	}
	bound := Bound(l.Bound, r)
	switch {
	case bound == "":
	case r == Landowner:
		amount += ", " + bound + ","
	default:
		amount = bound + " " + amount
	}
	s := fmt.Sprintf("About %s short tons an acre of pure lime (%s t/ha)", amount, fixed(likely.TonnesPerHectare(), 1))
	// The quality that the figure means goes with it for those who order by it; the landowner is told of pure lime.
	if r != Landowner {
		s = fmt.Sprintf("%s short tons/ac at 100 %% CCE (%s t/ha), to pH %s", title(amount), fixed(likely.TonnesPerHectare(), 2), plain(float64(l.Target), 2))
	}
	return withNotes(s, l, r, p)
}

// withNotes adds a sentence for each note.
func withNotes(s string, l *suitability.Lime, r Reader, p *suitability.Profile) string {
	s += "."
	for _, n := range l.Notes {
		s += " " + title(LimeNote(n, r, p)) + "."
	}
	return s
}

// Method says how a zone's lime figure was found; "" when there is none.
func Method(z *suitability.Zone) string {
	switch {
	case !z.Lime.Likely.Has():
		return ""
	case byTest(&z.Lime):
		if z.Lime.Test.Fit != nil {
			return fmt.Sprintf("%s, surface through %s (%s)", methodTitle(z.Lime.Test.Method), count(z.Lime.Test.Figures(), "sample", "samples"), z.Lime.Test.Fit.Method)
		}
		return fmt.Sprintf("%s, mean of %s", methodTitle(z.Lime.Test.Method), count(z.Lime.Test.Figures(), "sample", "samples"))
	case strings.HasPrefix(z.Lime.Basis, "test"): // a run of others, without its samples
		return z.Lime.Basis
	case z.Rating.Tested.Surface != nil:
		return "texture by the survey and tested pH, table in lb CaCO3 per 100 ft2; screening only"
	}
	return "texture and survey pH, table in lb CaCO3 per 100 ft2; screening only"
}
