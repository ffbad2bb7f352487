package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

func near(t *testing.T, name string, got float64, ok bool, want, tol float64) {
	t.Helper()
	if !ok || !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %v (%v), want %v", name, got, ok, want)
	}
}

// By hand: four tests; differences of survey less test -0.2, 0.4, 0.1 and -0.5. Their mean is -0.05, their mean square
// (0.04+0.16+0.01+0.25)/4 = 0.115.
func TestFiguresByHand(t *testing.T) {
	p := []pair{{survey: 5.8, lab: 6.0, low: 5.0, high: 6.0, lowest: 5, highest: 7}, {survey: 6.4, lab: 6.0, low: 6.1, high: 6.6, lowest: 5.5, highest: 7},
		{survey: 6.6, lab: 6.5, low: 6.0, high: 7.0, lowest: 6, highest: 7}, {survey: 6.3, lab: 6.8, low: 6.0, high: 6.5, lowest: 6.0, highest: 6.7}}
	want := map[string]float64{"survey less test, mean": -0.05, "root mean square": math.Sqrt(0.115), "tests in the mean range": 0.5, "tests in the range of some soil there": 0.75,
		"same side of 6.2": 0.75, "same side of 6.5": 0.75, "same of the three classes": 0.5}
	for _, f := range figures() {
		if w, ok := want[f.name]; ok {
			v, has := f.of(p)
			near(t, f.name, v, has, w, 1e-12)
		}
		if v, ok := f.of(nil); ok {
			t.Errorf("%s of nothing = %v", f.name, v)
		}
	}
}

// Source: Wikipedia, Spearman's rank correlation coefficient, example of IQ and hours of television: -29/165 = -0.1757575 (from memory,
// checked by the formula 1 - 6Σd²/(n(n²-1)) with Σd² = 194). With ties: ranks 1, 2.5, 2.5, 4 against 1, 2, 3, 4 correlate by √0.9.
func TestSpearman(t *testing.T) {
	iq := []float64{106, 100, 86, 101, 99, 103, 97, 113, 112, 110}
	tv := []float64{7, 27, 2, 50, 28, 29, 20, 12, 6, 17}
	var p []pair
	for i := range iq {
		p = append(p, pair{survey: iq[i], lab: tv[i]})
	}
	v, ok := spearman(p)
	near(t, "rank correlation", v, ok, -29.0/165, 1e-12)
	v, ok = spearman([]pair{{survey: 1, lab: 1}, {survey: 2, lab: 2}, {survey: 2, lab: 3}, {survey: 3, lab: 4}})
	near(t, "with ties", v, ok, math.Sqrt(0.9), 1e-12)
	if v, ok := spearman([]pair{{survey: 5, lab: 1}, {survey: 5, lab: 2}, {survey: 5, lab: 3}}); ok {
		t.Errorf("without differences %v", v)
	}
}

// The interval of a mean holds the truth about as often as it says; tests of one cluster that all err alike do not narrow it.
func TestIntervalHoldsTheTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	const runs = 200
	in := 0
	for k := range uint64(runs) {
		var p []pair
		for c := range 25 {
			shared := r.NormFloat64() // of the cluster
			for range 4 {
				p = append(p, pair{cluster: fmt.Sprint(c), survey: 0.3 + shared + 0.2*r.NormFloat64()})
			}
		}
		low, high, ok := interval(p, figures()[0], k, 300)
		if ok && low <= 0.3 && 0.3 <= high {
			in++
		}
	}
	// percentile intervals of 25 clusters hold somewhat under 95 of 100; 83 would be four standard deviations under 91
	if share := float64(in) / runs; share < 0.86 || share > 0.99 {
		t.Errorf("the interval holds the truth in %g of cases", share)
	}
	if _, _, ok := interval([]pair{{cluster: "a"}, {cluster: "b"}}, figures()[0], 1, 10); ok {
		t.Error("an interval of two clusters")
	}
}

// The invented survey with tests that are its own pH and 0.3 more: the study finds what was put in. Home Field's topsoil reads by hand from the
// survey's table: soil of 86 percent has 6.8 over 0 to 22 cm.
func TestFindsWhatWasPutIn(t *testing.T) {
	dir := t.TempDir()
	tests := filepath.Join(dir, "lab.csv")
	write := func(text string) {
		if err := os.WriteFile(tests, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	const header = "sample_id,field_id,lon,lat,top_cm,bottom_cm,ph_water\n"
	write(header + "1,F1,,,0,20,6\n2,F2,,,0,20,6\n3,F6,,,0,20,6\n4,F6,,,30,100,6\n5,F3,,,0,,6\n")
	in := input{survey: "../../../testdata/demo/survey", fields: "../../../testdata/demo/fields.geojson", tests: []string{tests}}
	open := func() *study {
		var faults diag.List
		s, err := in.open(context.Background(), &faults)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	s := open()
	if len(s.samples) != 5 || s.read != 4 || s.placed != 4 || len(s.pairs) != 4 || !s.pairs[3].deep {
		t.Fatalf("%d samples, %d read, %d placed, pairs %+v", len(s.samples), s.read, s.placed, s.pairs)
	}
	rows := header
	for i, f := range []string{"F1", "F2", "F6"} {
		rows += fmt.Sprintf("%d,%s,,,0,20,%.6f\n", i, f, s.pairs[i].survey+0.3)
	}
	write(rows)
	s = open()
	v, ok := bias(s.pairs)
	near(t, "survey less test", v, ok, -0.3, 1e-5)
	var out bytes.Buffer
	if err := s.report(&out, 1, 50); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"| survey less test, mean | -0.30 | under 5 clusters |", "3 tests in 3 clusters"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the report does not say %q:\n%s", want, out.String())
		}
	}

	// A sample without a depth is topsoil where the user says how deep, and nothing otherwise.
	write("sample_id,field_id,ph_water\n1,F1,6\n")
	if s = open(); s.read != 0 {
		t.Errorf("a depth out of nothing: %+v", s.pairs)
	}
	in.depth = 20
	if s = open(); s.read != 1 || s.shallow != 1 || len(s.pairs) != 1 || s.pairs[0].deep {
		t.Errorf("%d read, %d taken as topsoil, %+v", s.read, s.shallow, s.pairs)
	}
	in.depth = 0

	// By coordinates alone: a point in Kiln Field and one on open sea, off the survey.
	in.fields = ""
	write(header + "1,,-78.1856632,32.6168993,0,20,6\n2,,-70,30,0,20,6\n")
	if s = open(); s.read != 2 || s.placed != 1 || len(s.pairs) != 1 || math.Abs(s.pairs[0].survey-5.45) > 0.2 {
		t.Errorf("by coordinates: %d read, %d placed, %+v", s.read, s.placed, s.pairs)
	}
}

// A zone without a pH at the depth gives no pair.
func TestNoPHNoPair(t *testing.T) {
	z := &suitability.Zone{Area: 100}
	z.Rating.Components = []suitability.ComponentRating{{Name: "Water"}}
	if p, ok := surveyAt([]*suitability.Zone{z}, window(0, 20)); ok {
		t.Errorf("%+v", p)
	}
}

// Which open sets meet: none, as the sets stand; the day one does, the figure in README is to be replaced by a real one.
func TestSharedSetsDoNotMeet(t *testing.T) {
	const shared = "../../../../shared/data"
	if _, err := os.Stat(shared); err != nil {
		t.Skipf("the open data sets are not beside the repository: %v", err)
	}
	var out bytes.Buffer
	if err := inventory(context.Background(), &out, shared); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out.String(), "No test lies on one of them") || !strings.Contains(out.String(), "soiltest_points.csv | 20 | 20 | 20 |") {
		t.Errorf("%s", out.String())
	}
}

func window(from, to float64) soils.Window {
	return soils.Window{From: unit.Depth(from), To: unit.Depth(to)}
}
