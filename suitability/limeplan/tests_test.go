package limeplan_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/soils"
	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// mehlichBag is a bag with what North Carolina's method needs.
func mehlichBag(id string, ph, buffer float64) lab.Sample {
	s := lab.Sample{ID: id, PH: unit.Some(unit.PH(ph))}
	s.Buffer.Mehlich = unit.Some(unit.PHMehlich(buffer))
	return s
}

// failer is a test, or a random case of one.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// asked puts the question to a method, bag by bag, as a run does.
func asked(t failer, method string, a lime.Ask, samples ...lab.Sample) limeplan.Tests {
	t.Helper()
	m, ok := lime.MethodByName(method)
	if !ok {
		t.Fatalf("no method %s", method)
	}
	out := limeplan.Tests{Method: method}
	for i := range samples {
		out.Answers = append(out.Answers, limeplan.Ask(&samples[i], m, a))
	}
	return out
}

// tested rates a suited acid loam whose topsoil was tested.
func tested(p *suitability.Profile, ph float64) suitability.UnitRating {
	return p.RateUnit(soils.MapUnit{Components: []soils.Component{soil(100, horizon(0, 30, "L", 5.5), horizon(30, 150, "CL", 6.5))}},
		suitability.RateOptions{Tested: suitability.Tested{Surface: &suitability.TestedPH{PH: unit.PH(ph), Samples: 1, To: 15, Covered: 15, Basis: "zone id", Age: suitability.AgeFresh}}})
}

// Source of the two rates: NCDA&CS Agronomic Division, Lime factors for target pH (the formula): pH 5.2, buffer 6.2,
// target 6.5 make 1.4857 short tons/ac; pH 4.6 and 5.9 make 2.66 (computed from it).
func TestRateByTests(t *testing.T) {
	p := suitability.DefaultProfile()
	ask := lime.Ask{Target: 6.5}
	l := limeplan.PlanByTests(p, tested(p, 4.9), unit.Acres(10), limeplan.Options{ECCE: 63}, asked(t, "nc-mehlich", ask, mehlichBag("a", 5.2, 6.2), mehlichBag("b", 4.6, 5.9)))
	near(t, "mean of two samples", l.Likely.Or(0).ShortTonsPerAcre(), (1.6*1.3/1.4+2.66)/2)
	if l.Basis != "test: nc-mehlich" || !l.AsSold || l.Test.Figures() != 2 {
		t.Errorf("%+v", l)
	}
	near(t, "error of the Mehlich buffer", float64(l.Test.Error.Or(0)), math.Sqrt(1-0.72)*0.5)
	near(t, "low", l.Low.Or(0).ShortTonsPerAcre(), l.Likely.Or(0).ShortTonsPerAcre()*(1-math.Sqrt(0.28)*0.5))
	near(t, "as sold, so an ECCE changes nothing: on the quarter ton", l.Product.Or(0).ShortTonsPerAcre(), 2)
	near(t, "order", l.ProductMass.Or(0).ShortTons(), 20)
	for _, n := range []string{suitability.LimeBudget, suitability.LimeTableOrigin, suitability.LimeNoNeed} {
		if slices.Contains(l.Notes, n) {
			t.Errorf("a rate by test is called %q", n)
		}
	}
	if !slices.Contains(l.Notes, lime.NoteAsSold) || !slices.Contains(l.Notes, suitability.LimeSurfaceOnly) {
		t.Errorf("notes %q", l.Notes)
	}
}

// A rate at 100 % CCE is divided by ECCE once; without an ECCE it is lime as the method's source measured it.
func TestProductOfAPureRate(t *testing.T) {
	p := suitability.DefaultProfile()
	s := lab.Sample{ID: "g", PH: unit.Some(unit.PH(5.5)), LBCeq: unit.Some(unit.LimeBufferingEq(450))}
	tests := asked(t, "georgia-lbc", lime.Ask{Target: 6.5}, s)
	pure := 450.0 * 2 / 2000 // lb/ac on 2,000,000 lb of soil, by the definition of LBC
	for ecce, want := range map[unit.Percent]float64{0: pure / 0.73, 63: pure / 0.63, 100: pure} {
		l := limeplan.PlanByTests(p, tested(p, 5.5), unit.Acres(1), limeplan.Options{ECCE: ecce, Step: unit.ShortTonsPerAcre(1e-9)}, tests)
		near(t, "figure at 100 % CCE", l.Likely.Or(0).ShortTonsPerAcre(), pure)
		if math.Abs(l.Product.Or(0).ShortTonsPerAcre()-want) > 1e-8 || l.AsSold {
			t.Errorf("ECCE %g: %.4f, want %.4f", float64(ecce), l.Product.Or(0).ShortTonsPerAcre(), want)
		}
		if got := slices.Contains(l.Notes, suitability.LimeFieldProduct); got != (ecce == 0) {
			t.Errorf("ECCE %g: notes %q", float64(ecce), l.Notes)
		}
		if l.Low.Has() || l.High.Has() || !slices.Contains(l.Notes, suitability.LimeErrorUnknown) {
			t.Errorf("nobody published an error for this method, yet %v to %v", l.Low, l.High)
		}
	}
}

// Outside its range a method refuses, and the survey's band stands in at the tested pH; where it refuses a part, the rest counts.
func TestRefusedSamples(t *testing.T) {
	p := suitability.DefaultProfile()
	ask := lime.Ask{Target: 6.5}
	spent, fine := mehlichBag("spent", 5.5, 3.5), mehlichBag("fine", 5.5, 6.2)
	all := limeplan.PlanByTests(p, tested(p, 5.0), unit.Acres(1), limeplan.Options{}, asked(t, "nc-mehlich", ask, spent))
	near(t, "screening band at the tested pH", all.Likely.Or(0).ShortTonsPerAcre(), 10.5*0.2178) // loam at 5.0
	if all.Basis != limeplan.BasisTestedPH || strings.HasPrefix(all.Basis, "test") || !slices.Contains(all.Notes, suitability.LimeMethodRefused) || !slices.Contains(all.Notes, suitability.LimeBudget) {
		t.Errorf("%q, %q", all.Basis, all.Notes)
	}
	if len(all.Test.Samples) != 1 || all.Test.Samples[0].Refusal != lime.OutsideBuffer || all.Test.Samples[0].What == "" {
		t.Errorf("the refusal is not kept: %+v", all.Test)
	}
	part := limeplan.PlanByTests(p, tested(p, 5.0), unit.Acres(1), limeplan.Options{}, asked(t, "nc-mehlich", ask, spent, fine))
	near(t, "mean over the rest", part.Likely.Or(0).ShortTonsPerAcre(), 1.6*1/1.1)
	if !slices.Contains(part.Notes, suitability.LimePartRefused) {
		t.Errorf("%q", part.Notes)
	}
	most := limeplan.PlanByTests(p, tested(p, 5.0), unit.Acres(1), limeplan.Options{}, asked(t, "nc-mehlich", ask, spent, spent, fine))
	if most.Basis != limeplan.BasisTestedPH {
		t.Errorf("one figure of three samples made a rate: %+v", most)
	}
	none := limeplan.PlanByTests(p, tested(p, 5.0), unit.Acres(1), limeplan.Options{}, limeplan.Tests{})
	if !slices.Contains(none.Notes, suitability.LimeNoMethod) {
		t.Errorf("no method: %q", none.Notes)
	}
}

// Tests that ask for nothing: for one reason that is named, or for several.
func TestZeroByTests(t *testing.T) {
	p := suitability.DefaultProfile()
	for name, c := range map[string]struct {
		ask     lime.Ask
		samples []lab.Sample
		why     string
	}{
		"at target":       {lime.Ask{Target: 6.5}, []lab.Sample{mehlichBag("a", 6.5, 6.5), mehlichBag("b", 7, 6.6)}, suitability.WhyTestAtTarget},
		"credit covers":   {lime.Ask{Target: 6.5, Last: lime.Application{Rate: unit.ShortTonsPerAcre(9), Months: 1}}, []lab.Sample{mehlichBag("a", 6, 6.2)}, suitability.WhyCreditCovers},
		"for two reasons": {lime.Ask{Target: 6.5}, []lab.Sample{mehlichBag("a", 6.5, 6.5), mehlichBag("b", 6.4, 6.6)}, suitability.WhyTestZero},
	} {
		l := limeplan.PlanByTests(p, tested(p, 6.5), unit.Acres(1), limeplan.Options{}, asked(t, "nc-mehlich", c.ask, c.samples...))
		if l.Likely.Or(1) != 0 || !l.Likely.Has() || l.Why != c.why || l.Product.Or(1) != 0 || l.Passes != 0 {
			t.Errorf("%s: %+v", name, l)
		}
	}
}

// A surface moves what is needed yet. The credit for lime spread before is what the samples had taken off, never more than was spread.
func TestSurfaceLeavesTheCredit(t *testing.T) {
	p := suitability.DefaultProfile()
	spread := unit.ShortTonsPerAcre(0.5)
	a := asked(t, "nc-mehlich", lime.Ask{Target: 6.5, Last: lime.Application{Rate: spread, Months: 1}}, mehlichBag("a", 5.2, 6.2), mehlichBag("b", 4.6, 5.9))
	plain := limeplan.PlanByTests(p, tested(p, 4.9), unit.Acres(10), limeplan.Options{}, a)
	if c := plain.Test.Credit; !(c > 0 && c <= spread) {
		t.Fatalf("credit %v of %v spread", c, spread)
	}
	for _, times := range []unit.AreaRate{0, 0.5, 3} {
		a.Level, a.Fit = unit.Some(times*plain.Likely.Or(0)), &suitability.SurfaceFit{Found: 0.01}
		l := limeplan.PlanByTests(p, tested(p, 4.9), unit.Acres(10), limeplan.Options{}, a)
		near(t, "need by the surface", float64(l.Likely.Or(-1)), float64(times*plain.Likely.Or(0)))
		near(t, "credit", float64(l.Test.Credit), float64(plain.Test.Credit))
	}
}

// A more acid sample never needs less, nor a higher target; product over the zone is rate times area, its passes add up to it,
// and what is needed is never rounded to nothing.
func TestPropertiesOfRates(t *testing.T) {
	p := suitability.DefaultProfile()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "samples")
		var samples, sourer []lab.Sample
		for range n {
			ph, buffer := rapid.Float64Range(4.5, 6.4).Draw(t, "pH"), rapid.Float64Range(5, 6.55).Draw(t, "buffer")
			samples = append(samples, mehlichBag("x", ph, buffer))
			sourer = append(sourer, mehlichBag("x", ph, buffer-0.1))
		}
		area := unit.Acres(rapid.Float64Range(0.01, 500).Draw(t, "acres"))
		opt := limeplan.Options{ECCE: unit.Percent(rapid.Float64Range(20, 120).Draw(t, "ECCE"))}
		a := asked(t, "nc-mehlich", lime.Ask{Target: 6.2}, samples...)
		l := limeplan.PlanByTests(p, tested(p, 5.5), area, opt, a)
		if more := limeplan.PlanByTests(p, tested(p, 5.5), area, opt, asked(t, "nc-mehlich", lime.Ask{Target: 6.2}, sourer...)); more.Likely.Or(0) < l.Likely.Or(0)-1e-12 {
			t.Fatalf("more acid asks for %v instead of %v", more.Likely, l.Likely)
		}
		if higher := limeplan.PlanByTests(p, tested(p, 5.5), area, opt, asked(t, "nc-mehlich", lime.Ask{Target: 6.5}, samples...)); higher.Likely.Or(0) < l.Likely.Or(0)-1e-12 {
			t.Fatalf("a higher target asks for %v instead of %v", higher.Likely, l.Likely)
		}
		product := l.Product.Or(0)
		if l.Likely.Or(0) > 0 && product <= 0 {
			t.Fatalf("%v short tons/ac rounded to nothing", l.Likely.Or(0).ShortTonsPerAcre())
		}
		if mass := l.ProductMass.Or(0); math.Abs(float64(mass)-float64(product)*float64(area)) > 1e-6*float64(mass) {
			t.Fatalf("%v kg over the zone, rate × area is %v", mass, float64(product)*float64(area))
		}
		sum := unit.AreaRate(0)
		for _, pass := range lime.Passes(product, unit.ShortTonsPerAcre(2.5)) {
			sum += pass
		}
		if math.Abs(float64(sum-product)) > 1e-12 || len(lime.Passes(product, unit.ShortTonsPerAcre(2.5))) != l.Passes {
			t.Fatalf("passes add up to %v of %v, %d of them", sum, product, l.Passes)
		}
	})
}

// Of several methods: none that can answer, two that can, none needed.
func TestChoices(t *testing.T) {
	ask := lime.Ask{Target: 6.5}
	sikora := lab.Sample{ID: "s", PH: unit.Some(unit.PH(6.1))}
	sikora.Buffer.Sikora = unit.Some(unit.PHSikora(6.7))
	both := mehlichBag("b", 5.5, 6.2)
	both.LBCeq = unit.Some(unit.LimeBufferingEq(450))
	enough := mehlichBag("e", 6.6, 6.6)
	for name, c := range map[string]struct {
		sample  lab.Sample
		methods []string // of the answers; "" is none needed
		refused bool
	}{
		"none has what it needs": {sikora, []string{""}, true},
		"two":                    {both, []string{"nc-mehlich", "georgia-lbc"}, false},
		"at target":              {enough, []string{""}, false},
	} {
		var got []string
		answers := limeplan.Choices(&c.sample, limeplan.Askable(ask), ask)
		for _, a := range answers {
			got = append(got, a.Need.Method)
		}
		if !slices.Equal(got, c.methods) || (answers[0].Refusal != nil) != c.refused {
			t.Errorf("%s: %q, %v", name, got, answers[0].Refusal)
		}
	}
	if no := limeplan.Choices(&sikora, limeplan.Askable(ask), ask)[0].Refusal; !strings.Contains(no.What, "nc-mehlich: buffer pH by Mehlich was not measured") {
		t.Errorf("the refusal does not say what is lacking: %q", no.What)
	}
}

// One pH is shown of a sample: that in water, and only without it that in calcium chloride, under its own name.
func TestWhichPHIsShown(t *testing.T) {
	salt := unit.Some(unit.PHCaCl2(5.0))
	m, _ := lime.MethodByName("georgia-lbc")
	for name, s := range map[string]lab.Sample{"salt": {PHCaCl2: salt}, "both": {PH: unit.Some(unit.PH(5.6)), PHCaCl2: salt}, "neither": {}} {
		for _, a := range []limeplan.Answer{limeplan.Of(&s), limeplan.Ask(&s, m, lime.Ask{Target: 6.5}), limeplan.Choices(&s, lime.Methods()[:2], lime.Ask{Target: 6.5})[0]} {
			if a.PH != s.PH || a.PHCaCl2.Has() != (name == "salt") {
				t.Errorf("%s: %v in water, %v in calcium chloride", name, a.PH, a.PHCaCl2)
			}
		}
	}
}

// The laboratory's own figure, where it is one.
func TestOwn(t *testing.T) {
	rec := func(st float64, crop string) lab.Recommendation {
		return lab.Recommendation{Rate: unit.Some(unit.ShortTonsPerAcre(st)), Crop: crop}
	}
	for name, c := range map[string]struct {
		given []lab.Recommendation
		want  float64 // -1: nobody can tell
	}{
		"none":        {nil, -1},
		"one":         {[]lab.Recommendation{rec(1.5, "corn")}, 1.5},
		"for alfalfa": {[]lab.Recommendation{rec(1, "corn"), rec(2, "Alfalfa, new")}, 2},
		"several":     {[]lab.Recommendation{rec(1, "corn"), rec(2, "soybeans")}, -1},
		"alike":       {[]lab.Recommendation{rec(1, "corn"), rec(1, "soybeans")}, 1},
	} {
		g, ok := limeplan.Own(&lab.Sample{Lime: c.given})
		if ok != (c.want >= 0) || ok && math.Abs(g.Rate.ShortTonsPerAcre()-c.want) > 1e-9 {
			t.Errorf("%s: %v, %v", name, g, ok)
		}
	}
}

// A bag of the top three inches says little of the eight that the figure is for; limed to three inches, it does.
func TestDugToAnotherDepth(t *testing.T) {
	for name, c := range map[string]struct {
		bottom unit.Opt[unit.Depth]
		ask    lime.Ask
		want   bool
	}{
		"three inches":           {unit.Some(unit.InchesDeep(3)), lime.Ask{Target: 6.5}, true},
		"six inches":             {unit.Some(unit.InchesDeep(6)), lime.Ask{Target: 6.5}, false},
		"a foot":                 {unit.Some(unit.InchesDeep(12)), lime.Ask{Target: 6.5}, true},
		"not stated":             {unit.None[unit.Depth](), lime.Ask{Target: 6.5}, false},
		"three, limed for three": {unit.Some(unit.InchesDeep(3)), lime.Ask{Target: 6.5, Depth: unit.Some(unit.InchesDeep(3))}, false},
		"three, but none needed": {unit.Some(unit.InchesDeep(3)), lime.Ask{Target: 5}, false},
	} {
		s := mehlichBag("x", 5.5, 6.2)
		s.Top, s.Bottom = unit.Some(unit.Depth(0)), c.bottom
		m, _ := lime.MethodByName("nc-mehlich")
		if got := slices.Contains(limeplan.Ask(&s, m, c.ask).Need.Notes, suitability.LimeOtherDepth); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}
