package soiltest_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rootworthy/soils"
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/soiltest"
)

var today = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// bag is a sample of a layer; bottom 0 means that the file does not say the depth.
func bag(id string, top, bottom, ph float64) lab.Sample {
	s := lab.Sample{ID: id, PH: unit.Some(unit.PH(ph)), Taken: unit.Some(today.AddDate(-1, 0, 0)), Lab: "Quernmore"}
	if bottom > 0 {
		s.Top, s.Bottom = unit.Some(unit.Depth(top)), unit.Some(unit.Depth(bottom))
	}
	return s
}

// point places a sample by its coordinates.
func point(i int, zone string) lab.Located {
	return lab.Located{Sample: i, Basis: lab.ByPoint, Field: "F", Zones: []string{zone}}
}

// The nearest bag counts, depth by depth; one that was not placed speaks for nothing.
func TestWhichBagsSpeak(t *testing.T) {
	samples := []lab.Sample{bag("own", 0, 15, 6.0), bag("composite", 0, 15, 5.0), bag("deep composite", 30, 60, 5.2), bag("unit", 0, 20, 5.5), bag("deep", 30, 60, 5.8)}
	located := []lab.Located{point(0, "F/1"), {Sample: 1, Basis: lab.ByField, Field: "F"}, {Sample: 2, Basis: lab.ByField, Field: "F"},
		{Sample: 3, Basis: lab.ByMapUnit, Zones: []string{"F/2", "F/1"}}, {Sample: 4}}
	v := soiltest.Sort(samples, located)
	for _, c := range []struct {
		zone             string
		surface, subsoil float64
		basis            string
	}{
		{"F/1", 6.0, 5.2, "coordinates"}, // its own bag before those of unit and field; the subsoil only the field has
		{"F/2", 5.5, 5.2, "map unit"},
		{"F/3", 5.0, 5.2, "field id"},
	} {
		got, thin := v.Tested(suitability.DefaultProfile(), c.zone, "F", today)
		if thin || got.Surface == nil || got.Subsoil == nil || float64(got.Surface.PH) != c.surface || float64(got.Subsoil.PH) != c.subsoil || got.Surface.Basis != c.basis {
			t.Errorf("%s: %+v, %+v; want %+v", c.zone, got.Surface, got.Subsoil, c)
		}
	}
	if got, _ := v.Tested(suitability.DefaultProfile(), "G/1", "G", today); got.Any() {
		t.Errorf("another field: %+v", got)
	}
}

// Layers against the windows: what covers them, what is too thin, what lies between them.
func TestLayers(t *testing.T) {
	for name, c := range map[string]struct {
		bags       []lab.Sample
		ph         float64 // of the topsoil; 0: none
		from, to   float64
		covered    float64
		thin       bool
		subsoil    float64
		subCovered float64
	}{
		"one layer":               {bags: []lab.Sample{bag("a", 0, 15, 6.1)}, ph: 6.1, to: 15, covered: 15},
		"depth not stated":        {bags: []lab.Sample{bag("a", 0, 0, 6.1)}, ph: 6.1, to: 20, covered: 20},
		"two layers by thickness": {bags: []lab.Sample{bag("a", 0, 5, 5.0), bag("b", 5, 20, 6.0)}, ph: 5.75, to: 20, covered: 20},
		"overlapping":             {bags: []lab.Sample{bag("a", 0, 10, 5.0), bag("b", 0, 20, 6.0)}, ph: 5.75, to: 20, covered: 20}, // 10 cm of 5.5, 10 of 6.0
		"top three inches":        {bags: []lab.Sample{bag("a", 0, 7.62, 5.4)}, ph: 5.4, to: 7.62, covered: 7.62},
		"top two inches":          {bags: []lab.Sample{bag("a", 0, 5.08, 5.4)}, thin: true},
		"a foot":                  {bags: []lab.Sample{bag("a", 0, 30.48, 6.0)}, ph: 6.0, to: 20, covered: 20},
		"between the windows":     {bags: []lab.Sample{bag("a", 15, 30, 6.0)}},
		"12 to 24 in":             {bags: []lab.Sample{bag("a", 30.48, 60.96, 5.6)}, subsoil: 5.6, subCovered: 30.48},
		"subsoil in two layers":   {bags: []lab.Sample{bag("a", 30, 60, 5.6), bag("b", 60, 90, 5.0)}, subsoil: 5.3, subCovered: 60},
		"half a foot of subsoil":  {bags: []lab.Sample{bag("a", 30, 45, 5.6)}, thin: true},
	} {
		located := make([]lab.Located, len(c.bags))
		for i := range located {
			located[i] = point(i, "F/1")
		}
		got, thin := soiltest.Sort(c.bags, located).Tested(suitability.DefaultProfile(), "F/1", "F", today)
		if thin != c.thin || (got.Surface != nil) != (c.ph > 0) || (got.Subsoil != nil) != (c.subsoil > 0) {
			t.Errorf("%s: %+v, %+v, thin %v", name, got.Surface, got.Subsoil, thin)
			continue
		}
		if s := got.Surface; s != nil && (math.Abs(float64(s.PH)-c.ph) > 1e-9 || float64(s.From) != c.from || float64(s.To) != c.to || math.Abs(float64(s.Covered)-c.covered) > 1e-9) {
			t.Errorf("%s: topsoil %+v; want %+v", name, s, c)
		}
		if s := got.Subsoil; s != nil && (math.Abs(float64(s.PH)-c.subsoil) > 1e-9 || math.Abs(float64(s.Covered)-c.subCovered) > 1e-9) {
			t.Errorf("%s: subsoil %+v; want %+v", name, s, c)
		}
	}
}

// On and around three years, and where nothing can be counted.
func TestAge(t *testing.T) {
	day := func(d time.Time) *lab.Sample { return &lab.Sample{Taken: unit.Some(d)} }
	for name, c := range map[string]struct {
		sample *lab.Sample
		today  time.Time
		want   string
	}{
		"yesterday":         {day(today.AddDate(0, 0, -1)), today, suitability.AgeFresh},
		"three years":       {day(today.AddDate(-3, 0, 0)), today, suitability.AgeFresh},
		"and a day":         {day(today.AddDate(-3, 0, -1)), today, suitability.AgeOld},
		"tomorrow":          {day(today.AddDate(0, 0, 1)), today, suitability.AgeUnknown},
		"no date":           {&lab.Sample{}, today, suitability.AgeUnknown},
		"no day to count":   {day(today), time.Time{}, suitability.AgeUnknown},
		"only the report's": {&lab.Sample{Reported: unit.Some(today.AddDate(-5, 0, 0))}, today, suitability.AgeOld},
	} {
		if got := soiltest.Age(c.sample, c.today); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
}

// The mean lies between the least and the most acid bag; the order of the bags does not matter; each bag counts once, so
// that the same bags twice give the same.
func TestMeans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "bags")
		var samples []lab.Sample
		for i := range n {
			top := float64(rapid.IntRange(0, 15).Draw(t, "top"))
			samples = append(samples, bag(fmt.Sprint(i), top, top+float64(rapid.IntRange(1, 30).Draw(t, "thick")), float64(rapid.IntRange(40, 80).Draw(t, "pH"))/10))
		}
		tested := func(samples []lab.Sample) (*suitability.TestedPH, bool) {
			located := make([]lab.Located, len(samples))
			for i := range located {
				located[i] = point(i, "F/1")
			}
			x, thin := soiltest.Sort(samples, located).Tested(suitability.DefaultProfile(), "F/1", "F", today)
			return x.Surface, thin
		}
		got, thin := tested(samples)
		twice, thinTwice := tested(append(append([]lab.Sample{}, samples...), samples...))
		if thin != thinTwice || (got == nil) != (twice == nil) {
			t.Fatalf("the same bags twice: %+v, %+v", got, twice)
		}
		if got == nil {
			return
		}
		if got.PH < got.Least-1e-9 || got.PH > got.Most+1e-9 || got.Covered > 20 || got.Covered > got.To-got.From+1e-9 {
			t.Fatalf("%+v", got)
		}
		var back []lab.Sample
		for i := range samples {
			back = append(back, samples[len(samples)-1-i])
		}
		other, _ := tested(back)
		if math.Abs(float64(other.PH-got.PH)) > 1e-9 || math.Abs(float64(twice.PH-got.PH)) > 1e-9 || other.Samples != got.Samples {
			t.Fatalf("%+v; the other way round %+v; twice %+v", got, other, twice)
		}
	})
}

// More than half of the bag's own layer must lie in the window; just half is not enough.
func TestBears(t *testing.T) {
	w := soils.Window{From: 0, To: 20}
	for _, c := range []struct {
		top, bottom float64
		want        bool
	}{{0, 15, true}, {0, 40, false}, {0, 39, true}, {15, 30, false}, {20, 30, false}, {0, 0, true}} {
		s := bag("x", c.top, c.bottom, 6)
		if got := soiltest.Bears(&s, w); got != c.want {
			t.Errorf("%g to %g cm: %v", c.top, c.bottom, got)
		}
	}
}
