package suitability

import (
	"encoding/json"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// testOf is one young bag, dug at a point, from one depth to another.
func testOf(ph, from, to float64) *TestedPH {
	return &TestedPH{PH: unit.PH(ph), Least: unit.PH(ph), Most: unit.PH(ph), Samples: 1, From: unit.Depth(from), To: unit.Depth(to), Covered: unit.Depth(to - from),
		Basis: "coordinates", Age: AgeFresh}
}

// Survey 5.3 in the topsoil, test 6.6: the test counts, both are kept.
func TestTheTestBeatsTheSurvey(t *testing.T) {
	p := DefaultProfile()
	u := soils.MapUnit{Components: []soils.Component{good(60, acid(5.3, 6.5)), good(40, acid(5.3, 4.6))}}
	r := p.RateUnit(u, RateOptions{Tested: Tested{Surface: testOf(6.6, 0, 15), Subsoil: testOf(5.6, 30, 60)}})
	if r.Class != Suited || r.ClassToday != Suited || r.Shares.Suited != 100 || r.Limiting != "" {
		t.Errorf("%s today %s, shares %+v, limited by %q; want suited throughout", r.Class, r.ClassToday, r.Shares, r.Limiting)
	}
	if r.Values.PHSurface != unit.Some(unit.PH(6.6)) || r.Values.PHSubsoil != unit.Some(unit.PH(5.6)) {
		t.Errorf("values %v, %v", r.Values.PHSurface, r.Values.PHSubsoil)
	}
	if s := r.Tested.Surface.Survey; s != unit.Some(unit.PH(5.3)) {
		t.Errorf("the survey's surface pH is kept as %v, want 5.3", s)
	}
	if off, ok := r.Tested.Subsoil.Off().Get(); !ok || off != -0.14 { // 0.6·6.5 + 0.4·4.6 = 5.74
		t.Errorf("subsoil off by %v, want -0.14", off)
	}
	for i, c := range r.Components {
		f := c.finding(SubsoilPH)
		want := []float64{6.5, 4.6}[i]
		if !f.Tested || f.Survey != unit.Some(want) || f.Value != unit.Some(5.6) || f.Covered != unit.Some(30.0) {
			t.Errorf("component %d: %+v, want 5.6 by test beside %g", i, f, want)
		}
	}
	if r.Confidence.Level != High || len(r.Confidence.Reasons) != 0 {
		t.Errorf("confidence %+v, want high", r.Confidence)
	}
}

// No test sees water or rock: what the survey limits by those stays so, and where rock leaves no subsoil none is tested.
func TestWetnessAndRockStayTheSurveys(t *testing.T) {
	p := DefaultProfile()
	both := Tested{Surface: testOf(6.8, 0, 15), Subsoil: testOf(6.5, 30, 60)}
	for name, c := range map[string]struct {
		made  soils.Component
		limit Code
	}{
		"wet":  {good(100, drains(soils.PoorlyDrained)), Drainage},
		"rock": {good(100, stops("Lithic bedrock", 25)), Depth},
	} {
		r := p.RateUnit(soils.MapUnit{Components: []soils.Component{c.made}}, RateOptions{Tested: both})
		if r.Class != Unsuited || r.Limiting != c.limit {
			t.Errorf("%s: %s by %q, want unsuited by %s", name, r.Class, r.Limiting, c.limit)
		}
		if f := r.Components[0].finding(SubsoilPH); f.Tested != (name == "wet") {
			t.Errorf("%s: subsoil %+v", name, f)
		}
	}
}

// What a test lacks to make a class sure: both depths, youth, a place of its own.
func TestConfidenceByTests(t *testing.T) {
	p := DefaultProfile()
	of := func(age, basis string) *TestedPH { x := testOf(6.8, 0, 15); x.Age, x.Basis = age, basis; return x }
	fresh := of(AgeFresh, "coordinates")
	for name, c := range map[string]struct {
		tested  Tested
		level   string
		reasons []string
	}{
		"none":      {Tested{}, Medium, []string{ReasonNoTest}},
		"both":      {Tested{fresh, fresh}, High, nil},
		"one":       {Tested{Surface: fresh}, Medium, []string{ReasonOneTest}},
		"old":       {Tested{fresh, of(AgeOld, "coordinates")}, Medium, []string{ReasonOldTest}},
		"undated":   {Tested{of(AgeUnknown, "zone id"), fresh}, Medium, []string{ReasonUndatedTest}},
		"composite": {Tested{of(AgeFresh, "field id"), of(AgeFresh, "map unit")}, Medium, []string{ReasonWideTest}},
	} {
		r := p.RateUnit(soils.MapUnit{Components: []soils.Component{good(100)}}, RateOptions{Tested: c.tested})
		if r.Confidence.Level != c.level || !slices.Equal(r.Confidence.Reasons, c.reasons) {
			t.Errorf("%s: %+v, want %s %q", name, r.Confidence, c.level, c.reasons)
		}
	}
}

// Whatever the survey says: a zone tested at both depths does not hinge on pH, its soils have the tested pH and nothing but pH
// differs; a more acid test never rates better; the record reads back as it was.
func TestPropertiesOfTests(t *testing.T) {
	p := DefaultProfile()
	rapid.Check(t, func(t *rapid.T) {
		u := soils.MapUnit{Components: rapid.SliceOfN(rapid.Custom(drawComponent), 0, 4).Draw(t, "components")}
		surface, subsoil := tenths(40, 78).Draw(t, "surface"), tenths(40, 78).Draw(t, "subsoil")
		tested := Tested{Surface: testOf(surface, 0, 15), Subsoil: testOf(subsoil, 30, 60)}
		r := p.RateUnit(u, RateOptions{Tested: tested})
		plain := p.RateUnit(u, RateOptions{})
		if len(r.HingesOn) > 0 {
			t.Fatalf("hinges on %v though both depths are tested", r.HingesOn)
		}
		for i := range r.Components {
			for k, f := range r.Components[i].Findings {
				was := plain.Components[i].Findings[k]
				switch {
				case !f.Tested && !reflect.DeepEqual(f, was):
					t.Fatalf("%s changed though it is not tested: %+v, was %+v", f.Criterion, f, was)
				case f.Tested && (f.Survey != was.Value || f.SurveyClass != was.Class):
					t.Fatalf("%s keeps %v, %s of the survey's %v, %s", f.Criterion, f.Survey, f.SurveyClass, was.Value, was.Class)
				}
			}
		}
		lower := p.RateUnit(u, RateOptions{Tested: Tested{Surface: testOf(surface-0.5, 0, 15), Subsoil: testOf(subsoil-0.5, 30, 60)}})
		for i := range r.Components {
			if a, b := lower.Components[i].Class, r.Components[i].Class; a != NotRated && b != NotRated && a < b {
				t.Fatalf("half a unit more acid made component %d %s instead of %s", i, a, b)
			}
		}
		b, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		var back UnitRating
		if err := json.Unmarshal(b, &back); err != nil || !reflect.DeepEqual(back.Tested, r.Tested) {
			t.Fatalf("read back as %+v, %v", back.Tested, err)
		}
	})
}

// Without a test nothing of tests is written.
func TestNoTestLeavesNoTrace(t *testing.T) {
	b, err := json.Marshal(DefaultProfile().RateUnit(soils.MapUnit{Components: []soils.Component{good(100)}}, RateOptions{}))
	if err != nil {
		t.Fatal(err)
	}
	var m map[string]any
	if err := json.Unmarshal(b, &m); err != nil {
		t.Fatal(err)
	}
	if _, ok := m["tested"]; ok {
		t.Error("a rating without tests has a key for them")
	}
	f := m["components"].([]any)[0].(map[string]any)["findings"].([]any)[0].(map[string]any)
	for _, key := range []string{"tested", "survey_value", "survey_class"} {
		if _, ok := f[key]; ok {
			t.Errorf("a finding without tests has the key %q", key)
		}
	}
}
