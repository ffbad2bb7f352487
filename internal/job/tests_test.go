package job

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"math"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/run"
	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/soils/ssurgo"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/testdata/demo"
)

// tarnHollow opens the invented farm.
func tarnHollow(t testing.TB) ([]field.Field, *testSurvey) {
	t.Helper()
	var faults diag.List
	fields, err := field.Read(context.Background(), []field.Source{{Name: "fields.geojson", Files: demo.Files, Path: "fields.geojson"}}, field.Options{}, &faults)
	if err != nil {
		t.Fatal(err)
	}
	dir, err := fs.Sub(demo.Files, "survey")
	if err != nil {
		t.Fatal(err)
	}
	e, err := ssurgo.Open(context.Background(), "survey", dir, &faults)
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(context.Background())
	if err != nil || faults.Faults() > 0 {
		t.Fatal(err, &faults)
	}
	return fields, &testSurvey{survey: s, export: e}
}

var day = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// withTests screens the farm by the Mehlich buffer.
func withTests(t testing.TB, fields []field.Field, s Survey, workers int, faults *diag.List, samples ...lab.Sample) *suitability.Result {
	t.Helper()
	m, _ := lime.MethodByName("nc-mehlich")
	opt := Options{Workers: workers, Tests: &Tests{Samples: samples, Method: &m}}
	opt.Lime.Date = day
	r, err := Screen(context.Background(), fields, s, opt, faults)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// sample is a bag with a Mehlich buffer pH.
func sample(id string, place lab.Place, top, bottom unit.Depth, ph, buffer float64) lab.Sample {
	s := lab.Sample{ID: id, Place: place, Top: unit.Some(top), Bottom: unit.Some(bottom), PH: unit.Some(unit.PH(ph)), Taken: unit.Some(day.AddDate(0, -1, 0)), File: "bags.csv"}
	if buffer > 0 {
		s.Buffer.Mehlich = unit.Some(unit.PHMehlich(buffer))
	}
	return s
}

func zoneOf(t testing.TB, r *suitability.Result, id string) *suitability.Zone {
	t.Helper()
	for i := range r.Zones {
		if r.Zones[i].ID == id {
			return &r.Zones[i]
		}
	}
	t.Fatalf("no zone %s", id)
	return nil
}

// Samples that lie nowhere change no byte of what is written of zones and fields; nor do those of one zone change another.
func TestOnlyTestedZonesChange(t *testing.T) {
	fields, s := tarnHollow(t)
	var faults diag.List
	plain := withTests(t, fields, s, 2, &faults)
	nowhere := withTests(t, fields, s, 2, &faults, sample("far", lab.Place{Point: unit.Some(orb.Point{-79, 33})}, 0, 15, 4.5, 5.5))
	for _, name := range run.Files() {
		var a, b bytes.Buffer
		if err := run.WriteFile(&a, name, plain); err != nil {
			t.Fatal(err)
		}
		if err := run.WriteFile(&b, name, nowhere); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("a sample that lies nowhere changes %s", name)
		}
	}
	if faults.Faults() != 1 {
		t.Errorf("the sample that lies nowhere is told %d times", faults.Faults())
	}
	one := withTests(t, fields, s, 2, &faults, sample("z", lab.Place{Zone: "F2/1"}, 0, 15, 6.1, 6.4))
	for i := range plain.Zones {
		changed := !reflect.DeepEqual(plain.Zones[i], one.Zones[i])
		if want := plain.Zones[i].ID == "F2/1"; changed != want {
			t.Errorf("zone %s changed: %v, want %v", plain.Zones[i].ID, changed, want)
		}
	}
	z := zoneOf(t, one, "F2/1")
	if z.Rating.Values.PHSurface != unit.Some(unit.PH(6.1)) || z.Rating.Tested.Surface.Survey != unit.Some(unit.PH(5.45)) || z.Lime.Basis != "test: nc-mehlich" {
		t.Errorf("%+v, %+v, %q", z.Rating.Values.PHSurface, z.Rating.Tested.Surface, z.Lime.Basis)
	}
}

// Each sample of a grid speaks for the zone whose shape holds it, and for no other.
func TestPointsSpeakForTheirZone(t *testing.T) {
	fields, s := tarnHollow(t)
	var faults diag.List
	plain := withTests(t, fields, s, 1, &faults)
	var samples []lab.Sample
	want := map[string][]float64{}
	for i := range 400 {
		p := orb.Point{-78.1884 + float64(i%20)*0.00055, 32.6088 + float64(i/20)*0.00026}
		for _, z := range plain.Zones {
			if z.FieldID == "F6" && planar.MultiPolygonContains(z.Shape, p) {
				ph := 5 + float64(i%17)/10
				want[z.ID] = append(want[z.ID], ph)
				samples = append(samples, sample(fmt.Sprint(i), lab.Place{Point: unit.Some(p)}, 0, 20, ph, 6.2))
				break
			}
		}
	}
	if len(want) != 4 || len(samples) < 100 {
		t.Fatalf("%d points in %d zones: the grid misses the field", len(samples), len(want))
	}
	r := withTests(t, fields, s, 8, &faults, samples...)
	if faults.Faults() != 0 {
		t.Fatal(&faults)
	}
	for id, phs := range want {
		sum := 0.0
		for _, x := range phs {
			sum += x
		}
		got := zoneOf(t, r, id).Rating.Tested.Surface
		if got == nil || got.Samples != len(phs) || math.Abs(float64(got.PH)-sum/float64(len(phs))) > 1e-9 {
			t.Errorf("%s: %+v, want the mean of %d points, %g", id, got, len(phs), sum/float64(len(phs)))
		}
	}
	if !bytes.Equal(outputs(t, r), outputs(t, withTests(t, fields, s, 1, &faults, samples...))) {
		t.Error("8 workers write other bytes than 1")
	}
}

// What is written of tests is read back as it was.
func TestTestsSurviveTheRunFolder(t *testing.T) {
	fields, s := tarnHollow(t)
	var faults diag.List
	r := withTests(t, fields, s, 2, &faults, sample("a", lab.Place{Zone: "F2/1"}, 0, 15, 6.1, 6.4), sample("b", lab.Place{Zone: "F2/1"}, 30, 60, 5.6, 0),
		sample("c", lab.Place{Field: "F7"}, 0, 15, 5.0, 3.0), sample("d", lab.Place{MapUnit: "9900016"}, 0, 15, 5.4, 6.0))
	r.Faults = faults.Kept()
	folder := fstest.MapFS{}
	r.Provenance.Schema = run.Schema
	for _, name := range run.Files() {
		var b bytes.Buffer
		if err := run.WriteFile(&b, name, r); err != nil {
			t.Fatal(err)
		}
		folder[name] = &fstest.MapFile{Data: b.Bytes()}
	}
	back, err := run.Read(folder)
	if err != nil {
		t.Fatal(err)
	}
	for i := range r.Zones {
		if !reflect.DeepEqual(back.Zones[i].Rating.Tested, r.Zones[i].Rating.Tested) || !reflect.DeepEqual(back.Zones[i].Lime, r.Zones[i].Lime) {
			t.Errorf("%s reads back as\n%+v\nwant\n%+v", r.Zones[i].ID, back.Zones[i].Lime, r.Zones[i].Lime)
		}
	}
	if !bytes.Equal(outputs(t, back), outputs(t, r)) {
		t.Error("what was read is not written to the same bytes")
	}
	if z := zoneOf(t, back, "F2/1"); z.Rating.Confidence.Level != suitability.High {
		t.Errorf("both depths tested, yet %+v", z.Rating.Confidence)
	}
	if z := zoneOf(t, back, "F7/1"); z.Lime.Test == nil || z.Lime.Test.Samples[0].Refusal != lime.OutsideBuffer || strings.HasPrefix(z.Lime.Basis, "test") {
		t.Errorf("a refused sample: %+v", z.Lime)
	}
}

// Works that the user declares on a field stay declared when its zones are rated again by tests.
func TestDeclaredDrainageIsKept(t *testing.T) {
	fields, s := tarnHollow(t)
	for i := range fields {
		fields[i].Drained = fields[i].ID == "F5"
	}
	var faults diag.List
	r := withTests(t, fields, s, 1, &faults, sample("a", lab.Place{Zone: "F5/1"}, 0, 15, 6.4, 6.5), sample("b", lab.Place{Zone: "F6/3"}, 0, 15, 6.4, 6.5))
	if z := zoneOf(t, r, "F6/3"); z.Rating.Class != suitability.Unsuited || z.Rating.Limiting != suitability.Drainage {
		t.Errorf("F6/3 without drains: %s by %s", z.Rating.Class, z.Rating.Limiting)
	}
	a, b := zoneOf(t, r, "F5/1").Rating.Components[0], zoneOf(t, r, "F6/3").Rating.Components[0]
	if a.Findings[0].Note != suitability.NoteDeclared || b.Findings[0].Note == suitability.NoteDeclared {
		t.Errorf("drainage notes %q with drains, %q without", a.Findings[0].Note, b.Findings[0].Note)
	}
}

// BenchmarkTests places a thousand points and rates a farm by them.
func BenchmarkTests(b *testing.B) {
	fields, s := tarnHollow(b)
	var samples []lab.Sample
	for i := range 1000 {
		p := orb.Point{-78.1995 + float64(i%40)*0.0008, 32.6015 + float64(i/40)*0.0007}
		samples = append(samples, sample(fmt.Sprint(i), lab.Place{Point: unit.Some(p)}, 0, 15, 5.5, 6.2))
	}
	for b.Loop() {
		var faults diag.List
		withTests(b, fields, s, 0, &faults, samples...)
	}
}
