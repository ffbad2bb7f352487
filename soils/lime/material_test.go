package lime

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/soils/unit"
)

const (
	uga025    = `University of Georgia Agricultural and Environmental Services Laboratories, crop code 025, alfalfa establishment`
	tennRule  = `Tenn. Comp. R. & Regs. 0080-05-15-.04 and .06`
	kentucky  = `list of state limestone specifications, Kentucky (2001)`
	floridaPg = `Rankin quoting Mackowiak (University of Florida), Not all lime is created equal; no date`
)

// A law is judged by what the label says alone: what it does not say is neither kept nor broken.
func TestMinima(t *testing.T) {
	percent := unit.Some[unit.Percent]
	none := unit.None[unit.Percent]()
	byState := map[string]Minimum{}
	for _, m := range Minima() {
		if m.Year == 0 || m.Source == "" {
			t.Errorf("%s: a law without a date may not be used", m.State)
		}
		byState[m.State] = m
	}
	// fine-10 (read): known, but without a date, so it stands here alone
	florida := Minimum{State: "FL", Passes: []Pass{{8, 90}, {20, 80}, {50, 50}}, Source: floridaPg}
	for _, c := range []struct {
		name       string
		law        Minimum
		index, cce unit.Opt[unit.Percent]
		passes     []Pass
		short      []string
	}{
		{"fine-07: Mississippi 63 (read)", byState["MS"], percent(63), none, nil, nil},
		{"fine-07: under it", byState["MS"], percent(62.9), none, nil, []string{"index 62.9, at least 63"}},
		{"fine-08: Tennessee 65 (read)", byState["TN"], percent(64.9), none, nil, []string{"index 64.9, at least 65"}},
		{"fine-09: Kentucky (read)", byState["KY"], none, percent(80), []Pass{{10, 90}, {50, 35}}, nil},
		{"fine-09: coarse and weak", byState["KY"], none, percent(79), []Pass{{10, 89}, {50, 34}},
			[]string{"CCE 79, at least 80", "through 10 mesh 89, at least 90", "through 50 mesh 34, at least 35"}},
		{"what a label does not say is not judged", byState["KY"], percent(10), none, nil, nil},
		{"fine-10: Florida (read)", florida, none, none, []Pass{{8, 90}, {20, 80}, {50, 49}}, []string{"through 50 mesh 49, at least 50"}},
	} {
		if got := c.law.Short(c.index, c.cce, c.passes...); !slices.Equal(got, c.short) {
			t.Errorf("%s: %q, want %q", c.name, got, c.short)
		}
	}
	if _, ok := byState["FL"]; ok {
		t.Error("Florida's sieves were read without a date")
	}
	if byState["MS"].Source != missRule || byState["TN"].Source[:30] != tennRule[:30] {
		t.Errorf("sources of %s, %s (%s)", byState["MS"].Source, byState["TN"].Source, kentucky)
	}
}

// The limits are of the printed class, up to and with its end.
func TestMagnesium(t *testing.T) {
	lb := func(v float64) unit.Content { return unit.ContentFromPoundsPerAcre(v, 2e6) }
	for _, c := range []struct {
		name, region string
		mg           float64
		lime         bool
		want         MagnesiumAdvice
	}{
		{"mg-01: Coastal Plain, low up to 60 (read)", "Coastal Plain", 60, true, Dolomitic},
		{"mg-01: over it", "Coastal Plain", 60.5, true, ByPrice},
		{"mg-01: Piedmont, low up to 120 (read)", "Piedmont", 120, true, Dolomitic},
		{"mg-02 (computed)", "Piedmont", 100, true, Dolomitic},
		{"mg-03 (computed)", "Piedmont", 100, false, MagnesiumOnly},
		{"neither", "Piedmont", 200, false, NoLime},
	} {
		r, ok := MagnesiumRegionByName(c.region)
		if got := r.Advise(lb(c.mg), c.lime); !ok || got != c.want {
			t.Errorf("%s: %q, want %q (%s)", c.name, got, c.want, uga025)
		}
	}
	near(t, "mg-03: lb/ac without lime (computed)", float64(MagnesiumWithoutLime/unit.PoundPerAcre), 25, 1e-9, uga025)
	for name, want := range map[string][2]float64{"Coastal Plain": {60, 120}, "Piedmont": {120, 240}} {
		r, _ := MagnesiumRegionByName(name)
		near(t, "mg-01: low, "+name, float64(r.LowMost.Over(unit.PlowSlice)/unit.PoundPerAcre), want[0], 1e-9, uga025)
		near(t, "mg-01: medium, "+name, float64(r.MediumEnd.Over(unit.PlowSlice)/unit.PoundPerAcre), want[1], 1e-9, uga025)
	}
}

// The dearest by the ton may be the cheapest by what works in it; equals stay in the order given.
func TestOffers(t *testing.T) {
	dear := Offer{Name: "fine", Product: Product{ECCE: 95}, Price: 47.5}               // 50 an effective ton
	cheap := Offer{Name: "coarse", Product: Product{ECCE: 50}, Price: 22}              // 44
	wet := Offer{Name: "sludge", Product: Product{ECCE: 100, Moisture: 50}, Price: 25} // 50
	near(t, "fine", dear.PerEffectiveTon(), 50, 1e-12, "by hand")
	near(t, "coarse", cheap.PerEffectiveTon(), 44, 1e-12, "by hand")
	near(t, "wet", wet.PerEffectiveTon(), 50, 1e-12, "by hand")
	var names []string
	for _, o := range Cheapest([]Offer{dear, wet, cheap}) {
		names = append(names, o.Name)
	}
	if !slices.Equal(names, []string{"coarse", "fine", "sludge"}) {
		t.Errorf("order %q", names)
	}
	wet.Dolomite, dear.Dolomite = true, true
	for advice, want := range map[MagnesiumAdvice]int{Dolomitic: 2, ByPrice: 3, MagnesiumOnly: 0, NoLime: 0} {
		if got := Fitting([]Offer{dear, wet, cheap}, advice); len(got) != want {
			t.Errorf("%s: %v", advice, got)
		}
	}
}

// Gypsum is a question and no advice: findings stand on both sides, and both are shown.
func TestGypsumIsAQuestion(t *testing.T) {
	for _, ph := range []unit.Opt[unit.PH]{unit.None[unit.PH](), some(unit.PH(5.5)), some(unit.PH(6.2))} {
		if _, ok := GypsumQuestion(ph); ok {
			t.Errorf("subsoil %v: no question is to be asked", ph)
		}
	}
	findings, ok := GypsumQuestion(some(unit.PH(5.4)))
	favour, against := 0, 0
	for _, f := range findings {
		if f.Favour {
			favour++
		} else {
			against++
		}
	}
	if !ok || favour == 0 || against == 0 { // sub-04 (read): 25 % from gypsum, 50 % from deep lime
		t.Errorf("findings %v: both sides are to be shown", findings)
	}
}

// Sieves have to let less through the finer they are, and the shares are percents.
func TestImpossibleProducts(t *testing.T) {
	for _, p := range []Product{{ECCE: -1}, {ECCE: 251}, {Moisture: 81}, {Moisture: -1}, {ECCE: 0.5}} {
		if p.Check() == nil {
			t.Errorf("%+v passed", p)
		}
	}
	s, _ := SchemeByName("ohio")
	for _, passes := range [][]Pass{nil, {{60, 50}, {20, 40}, {8, 90}}, {{60, 50}, {20, 80}, {8, 101}}, {{60, -1}, {20, 80}, {8, 90}}} {
		if f, err := s.Fineness(passes...); err == nil {
			t.Errorf("%v: fineness %v", passes, f)
		}
	}
}

// Mass is conserved from the rate to the product: what is spread carries the effect that was asked for; passes keep it.
func TestEffectIsConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Product{ECCE: unit.Percent(rapid.Float64Range(20, 178).Draw(t, "ECCE")), Moisture: unit.Percent(rapid.Float64Range(0, 60).Draw(t, "moisture"))}
		r := Of(unit.AreaRate(rapid.Float64Range(0.01, 3).Draw(t, "rate")), Quality(rapid.Float64Range(20, 100).Draw(t, "quality")))
		spread := p.AsSpread(r)
		want, _ := r.Carbonate()
		if got := float64(spread) * float64(p.Effective()); !(got/float64(want)-1 < 1e-12 && got/float64(want)-1 > -1e-12) {
			t.Fatalf("%v spread carries %v, want %v", spread, got, want)
		}
		var sum unit.AreaRate
		for _, pass := range Passes(spread, 0.5) {
			sum += pass
		}
		if d := float64(sum/spread) - 1; d > 1e-9 || d < -1e-9 {
			t.Fatalf("passes sum to %v of %v", sum, spread)
		}
		if step := OnStep(spread, 0.05); step <= 0 || step-spread > 0.05 {
			t.Fatalf("%v on the step is %v", spread, step)
		}
	})
}
