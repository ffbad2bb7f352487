package limeplan_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/season"
)

// acidLoam is a suited zone that asks for 8 lb per 100 ft², 1.7424 short tons an acre (loam from pH 5.5).
func acidLoam(p *suitability.Profile) suitability.UnitRating {
	return p.RateUnit(soils.MapUnit{Components: []soils.Component{soil(100, horizon(0, 30, "L", 5.5), horizon(30, 150, "CL", 6.5))}}, suitability.RateOptions{})
}

// piedmont is a region whose window lies in one autumn: September 15 to October 15.
func piedmont(t testing.TB, p *suitability.Profile) *suitability.SowingWindow {
	t.Helper()
	w, err := season.Region(p, "piedmont")
	if err != nil {
		t.Fatal(err)
	}
	return &w
}

// From one need, 1.7424 short tons an acre: product, passes, wait and dates as each option changes them. A window that the wait just
// misses costs a year ("a date and a region").
func TestProductPassesAndDates(t *testing.T) {
	p := suitability.DefaultProfile()
	today := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	for name, c := range map[string]struct {
		opt     limeplan.Options
		product float64 // short tons an acre
		passes  int
		wait    int
		ready   string
		window  string
	}{
		"pure lime, on the quarter ton": {limeplan.Options{}, 1.75, 1, 12, "", ""},
		"a weaker product":              {limeplan.Options{ECCE: 63}, 2.75, 2, 24, "", ""},
		"and a moist one":               {limeplan.Options{ECCE: 63, Moisture: 8}, 3.0, 2, 24, "", ""},
		"Tennessee's cap":               {limeplan.Options{ECCE: 63, Cap: unit.ShortTonsPerAcre(4)}, 2.75, 1, 12, "", ""},
		"a finer spreader":              {limeplan.Options{Step: unit.ShortTonsPerAcre(0.1)}, 1.7, 1, 12, "", ""},
		"a date":                        {limeplan.Options{Date: today}, 1.75, 1, 12, "2027-11-25", ""},
		"a date and a region":           {limeplan.Options{Date: today, Window: piedmont(t, p)}, 1.75, 1, 12, "2027-11-25", "2028-09-15/2028-10-15"},
		"two passes":                    {limeplan.Options{ECCE: 63, Date: today, Window: piedmont(t, p)}, 2.75, 2, 24, "2028-11-25", "2029-09-15/2029-10-15"},
		"the published minimum":         {limeplan.Options{Months: 6, Date: today, Window: piedmont(t, p)}, 1.75, 1, 6, "2027-05-25", "2027-09-15/2027-10-15"},
	} {
		if err := c.opt.Check(p); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		l := limeplan.Plan(p, acidLoam(p), unit.Acres(10), c.opt)
		if math.Abs(l.Product.Or(0).ShortTonsPerAcre()-c.product) > 1e-9 || l.Passes != c.passes || l.WaitMonths != c.wait ||
			l.Ready != c.ready || l.Window != c.window {
			t.Errorf("%s: %.4f short tons/ac in %d passes, %d months, %q, %q; want %+v", name, l.Product.Or(0).ShortTonsPerAcre(),
				l.Passes, l.WaitMonths, l.Ready, l.Window, c)
		}
		near(t, name+": order", l.ProductMass.Or(0).ShortTons(), 10*c.product)
		near(t, name+": likely", l.Likely.Or(0).ShortTonsPerAcre(), 1.7424)
		if l.Basis != limeplan.BasisSurvey || l.Target != 6.5 {
			t.Errorf("%s: basis %q, target %v", name, l.Basis, l.Target)
		}
	}
}

// Zero, no figure, a floor or a ceiling: what the plan says beside each.
func TestWhyNoLime(t *testing.T) {
	p := suitability.DefaultProfile()
	chalky := horizon(0, 30, "L", 6.2)
	chalky.Carbonate = unit.Some(unit.Percent(3))
	bare := soil(100)
	for name, c := range map[string]struct {
		component soils.Component
		likely    float64 // -1: no figure
		bound     string
		why       string
		notes     []string
	}{
		"at target":  {soil(100, horizon(0, 150, "L", 6.6)), 0, "", suitability.WhyAtTarget, []string{suitability.LimeNoNeed}},
		"calcareous": {soil(100, chalky, horizon(30, 150, "L", 8)), 0, "", suitability.WhyCalcareous, []string{suitability.LimeNoNeed}},
		"not rated":  {bare, -1, "", suitability.WhyZoneNotRated, nil},
		"acid sand":  {soil(100, horizon(0, 30, "S", 4.8), horizon(30, 150, "SCL", 6)), -1, "", suitability.WhyAcidSand, nil},
		"no texture": {soil(100, horizon(0, 30, "", 5.5), horizon(30, 150, "L", 6)), -1, "", suitability.WhyNoTexture, nil},
		"clay":       {soil(100, horizon(0, 150, "C", 6.0)), 5.5 * 0.2178, suitability.AtLeast, "", []string{suitability.LimeBudget, suitability.LimeTableOrigin, suitability.LimeOutside, suitability.LimeSurfaceOnly, suitability.LimeRetest}},
		"sandy":      {soil(100, horizon(0, 150, "LS", 6.0)), 3 * 0.2178, suitability.AtMost, "", []string{suitability.LimeBudget, suitability.LimeTableOrigin, suitability.LimeSand, suitability.LimeSurfaceOnly, suitability.LimeRetest}},
		"very acid":  {soil(100, horizon(0, 30, "L", 4.7), horizon(30, 150, "L", 6)), 10.5 * 0.2178, suitability.AtLeast, "", []string{suitability.LimeBudget, suitability.LimeTableOrigin, suitability.LimeBelowTable, suitability.LimeSurfaceOnly, suitability.LimeRetest}},
	} {
		r := p.RateUnit(soils.MapUnit{Components: []soils.Component{c.component}}, suitability.RateOptions{})
		l := limeplan.Plan(p, r, unit.Acres(1), limeplan.Options{})
		near(t, name, l.Likely.Or(-unit.ShortTonPerAcre).ShortTonsPerAcre(), c.likely)
		if l.Bound != c.bound || l.Why != c.why || !slices.Equal(l.Notes, c.notes) {
			t.Errorf("%s: bound %q, why %q, notes %q; want %q, %q, %q", name, l.Bound, l.Why, l.Notes, c.bound, c.why, c.notes)
		}
		if c.likely < 0 && (l.Low.Has() || l.High.Has() || l.Product.Has() || l.ProductMass.Has() || l.Passes != 0) {
			t.Errorf("%s: no figure, yet %+v", name, l)
		}
	}
}

// Ground that needs nothing is sown in the next window; ground that cannot be sown, or that lime would have to mend and
// has no figure for, has none.
func TestWindowWithoutLime(t *testing.T) {
	p := suitability.DefaultProfile()
	opt := limeplan.Options{Date: time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC), Window: piedmont(t, p)}
	poor := func(c *soils.Component) { c.Drainage = soils.PoorlyDrained }
	for name, c := range map[string]struct {
		component soils.Component
		want      string
	}{
		"no need":          {soil(100, horizon(0, 150, "L", 6.6)), "2027-09-15/2027-10-15"},
		"unsuited":         {with(soil(100, horizon(0, 150, "L", 6.6)), poor), ""},
		"unsuited, limed":  {with(soil(100, horizon(0, 150, "L", 5.5)), poor), ""},
		"not rated":        {soil(100), ""},
		"acid, no texture": {soil(100, horizon(0, 30, "", 5.5), horizon(30, 150, "L", 6)), ""},
	} {
		r := p.RateUnit(soils.MapUnit{Components: []soils.Component{c.component}}, suitability.RateOptions{})
		opt := opt
		opt.IncludeUnsuited = true
		if l := limeplan.Plan(p, r, 1, opt); l.Window != c.want {
			t.Errorf("%s: window %q, want %q", name, l.Window, c.want)
		}
	}
}

// A state with a target over the table's end, and one without any.
func TestStateTargets(t *testing.T) {
	p := suitability.DefaultProfile()
	u := soils.MapUnit{Components: []soils.Component{soil(100, horizon(0, 150, "L", 5.5))}}
	ky := limeplan.Plan(p, p.RateUnit(u, suitability.RateOptions{Target: p.TargetOf("KY")}), 1, limeplan.Options{})
	if ky.Target != 6.8 || ky.Bound != suitability.AtLeast || !slices.Contains(ky.Notes, suitability.LimeAboveTable) {
		t.Errorf("Kentucky: %+v, want a floor for 6.8", ky)
	}
	al := limeplan.Plan(p, p.RateUnit(u, suitability.RateOptions{Target: p.TargetOf("AL")}), 1, limeplan.Options{})
	if al.Target != 6.5 || al.Bound != "" || !slices.Contains(al.Notes, suitability.LimeStateMissing) {
		t.Errorf("Alabama: %+v, want 6.5 with a flag", al)
	}
}

// Floors and ceilings of components in one zone, and how much of it the figure speaks for.
func TestBoundsOfMixedZones(t *testing.T) {
	p := suitability.DefaultProfile()
	sand, clay := soil(50, horizon(0, 150, "LS", 6.0)), soil(30, horizon(0, 150, "C", 6.0))
	plan := func(components ...soils.Component) suitability.Lime {
		return limeplan.Plan(p, p.RateUnit(soils.MapUnit{Components: components}, suitability.RateOptions{}), 1, limeplan.Options{})
	}
	if l := plan(sand, clay, soil(20, horizon(0, 150, "L", 6.0))); l.Bound != "" || !slices.Contains(l.Notes, suitability.LimeBoundsMixed) {
		t.Errorf("sand and clay: %+v", l)
	}
	if l := plan(sand, soil(20, horizon(0, 150, "L", 6.0)), with(soil(30), func(c *soils.Component) { c.Drainage = 0 })); l.Bound != suitability.AtMost ||
		slices.Contains(l.Notes, suitability.LimePartOnly) {
		t.Errorf("70 percent with a figure: %+v", l)
	}
	if l := plan(soil(100, horizon(0, 150, "L", 6.0)), soil(0, horizon(0, 150, "C", 6.0))); l.Bound != "" {
		t.Errorf("a component of no percent bounds the figure: %+v", l)
	}
	if l := plan(sand, with(soil(50), func(c *soils.Component) { c.Drainage = 0 })); !slices.Contains(l.Notes, suitability.LimePartOnly) {
		t.Errorf("50 percent with a figure: %+v", l)
	}
}

// Each option out of range alone; every message says what would be possible.
func TestCheckOptions(t *testing.T) {
	p := suitability.DefaultProfile()
	for name, o := range map[string]limeplan.Options{
		"ECCE":          {ECCE: 300},
		"small ECCE":    {ECCE: 0.63}, // a fraction, where a percent was meant
		"no number":     {ECCE: unit.Percent(math.NaN())},
		"moisture":      {Moisture: 100},
		"cap":           {Cap: unit.ShortTonsPerAcre(4.5)},
		"months":        {Months: 3},
		"many months":   {Months: 600},
		"negative":      {Months: -1},
		"step":          {Step: unit.ShortTonsPerAcre(5)},
		"negative cap":  {Cap: -1},
		"cap of crumbs": {Cap: unit.ShortTonsPerAcre(0.01)},
		"weak product":  {ECCE: 2},
		"mud":           {ECCE: 20, Moisture: 80, Cap: unit.ShortTonsPerAcre(1)}, // 0.04 of pure lime
	} {
		if err := o.Check(p); err == nil || !strings.Contains(err.Error(), "not possible; give") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The band is half, once, twice; product over the area is the order; every code is in its list; nothing is rounded away.
func TestPlanHoldsTogether(t *testing.T) {
	p := suitability.DefaultProfile()
	rapid.Check(t, func(t *rapid.T) {
		ph := func(label string) float64 { return float64(rapid.IntRange(40, 70).Draw(t, label)) / 10 }
		texture := rapid.SampledFrom(soils.TextureClasses())
		var components []soils.Component
		for range rapid.IntRange(1, 3).Draw(t, "components") {
			components = append(components, soil(33, horizon(0, 20, texture.Draw(t, "texture"), ph("surface")), horizon(20, 150, "CL", 6)))
		}
		o := limeplan.Options{ECCE: unit.Percent(rapid.Float64Range(20, 120).Draw(t, "ECCE")), IncludeUnsuited: true}
		area := unit.Area(rapid.Float64Range(1, 1e6).Draw(t, "area"))
		l := limeplan.Plan(p, p.RateUnit(soils.MapUnit{Components: components}, suitability.RateOptions{}), area, o)
		likely, ok := l.Likely.Get()
		if !ok {
			if l.Why == "" || l.Product.Has() {
				t.Fatalf("no figure and no reason: %+v", l)
			}
			return
		}
		if l.Low.Or(-1) != likely/2 || l.High.Or(-1) != likely*2 || l.ProductMass.Or(-1) != l.Product.Or(0).Over(area) {
			t.Fatalf("band or order: %+v", l)
		}
		if (likely > 0) != (l.Product.Or(0) > 0) || (likely > 0) != (l.Passes > 0) || (likely == 0) != (l.Why != "") {
			t.Fatalf("need, product, passes and reason disagree: %+v", l)
		}
		for _, n := range l.Notes {
			if !slices.Contains(suitability.LimeNotes(), n) {
				t.Fatalf("note %q is not in the list", n)
			}
		}
	})
}
