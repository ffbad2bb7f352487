package words

import (
	"fmt"
	"strings"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// bySurvey says after a tested value what the survey had said: ", by your soil test; the survey says 5.45".
func bySurvey(f *suitability.Finding) string {
	if !f.Tested {
		return ""
	}
	if x, ok := f.Survey.Get(); ok {
		return ", by your soil test; the survey says pH " + plain(x, 2)
	}
	return ", by your soil test; the survey says nothing of it"
}

// saidAndRead says what survey and test found, for those who want both: "survey said 5.3; your test says 6.1".
func saidAndRead(t *suitability.TestedPH) string {
	s := "the survey said nothing"
	if x, ok := t.Survey.Get(); ok {
		s = "the survey said " + fixed(float64(x), 2)
	}
	return s + "; your test says " + fixed(float64(t.PH), 2)
}

// testDetails lists what a tested pH rests on.
func testDetails(t *suitability.TestedPH) string {
	parts := []string{count(t.Samples, "sample", "samples")}
	if t.Least != t.Most {
		parts[0] += " from " + plain(float64(t.Least), 2) + " to " + plain(float64(t.Most), 2)
	}
	layer := fmt.Sprintf("%s to %s cm", plain(float64(t.From), 1), plain(float64(t.To), 1))
	if t.DepthAssumed {
		layer = "depth not stated, taken as the topsoil"
	}
	// Through a surface, all points of the field speak for the zone, not its own samples alone.
	if t.Fit != nil {
		parts[0] = count(t.Fit.Points, "point", "points") + " of the field"
		if t.Least != t.Most {
			parts[0] += ", surface from " + plain(float64(t.Least), 2) + " to " + plain(float64(t.Most), 2) + " in the zone"
		}
	}
	parts = append(parts, layer, "placed by "+t.Basis)
	switch {
	case t.Newest == "":
	case t.Newest == t.Oldest:
		parts = append(parts, t.Newest)
	default:
		parts = append(parts, t.Oldest+" to "+t.Newest)
	}
	parts = append(parts, TestAge(t.Age, Consultant))
	if len(t.Laboratories) > 0 {
		parts = append(parts, strings.Join(t.Laboratories, " and "))
	}
	if t.WaterAssumed {
		parts = append(parts, "taken as pH in water")
	}
	return strings.Join(parts, ", ")
}

// byTest says whether a lime figure is a rate from laboratory tests.
// Both are asked: a basis may begin with "test" in a run of others that holds no samples.
func byTest(l *suitability.Lime) bool { return l.Test != nil && strings.HasPrefix(l.Basis, "test") }

// tested says whether any pH of a zone was tested.
func tested(z *suitability.Zone) bool { return z.Rating.Tested.Any() }

// limeByTest is the sentence for a rate from laboratory tests: the rate, its error, the method, how many samples.
func limeByTest(l *suitability.Lime, r Reader, likely unit.AreaRate) string {
	of := "pure lime"
	if r != Landowner {
		of = "lime at 100 % CCE"
	}
	// The method's own figure is in lime as dealers sell it, so no quality may be claimed for it.
	if l.AsSold {
		of = "agricultural lime as sold"
	}
	decimals := 1
	if r != Landowner {
		decimals = 2
	}
	amount := withError(likely, l.Test.Error, decimals)
	return fmt.Sprintf("%s short tons an acre of %s (%s t/ha) to pH %s, by %s from %s", amount, of, fixed(likely.TonnesPerHectare(), 2),
		plain(float64(l.Target), 2), methodTitle(l.Test.Method), count(l.Test.Figures(), "sample", "samples"))
}

// withError prints a rate in short tons an acre with its error, both with as many decimals as the error needs to be seen.
// e is a share of the rate. 0.095 is below what prints as a tenth.
func withError(rate unit.AreaRate, e unit.Opt[unit.Fraction], decimals int) string {
	x := rate.ShortTonsPerAcre()
	f, ok := e.Get()
	off := float64(f) * x
	if x > 0 && x < 0.095 || ok && off < 0.095 {
		decimals = max(decimals, 2)
	}
	if !ok {
		return fixed(x, decimals)
	}
	return fixed(x, decimals) + " ± " + fixed(off, decimals)
}

// methodTitle names a method as reports do.
func methodTitle(name string) string {
	if m, ok := lime.MethodByName(name); ok {
		return m.Title
	}
	return name
}
