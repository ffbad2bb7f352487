package job

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/run"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/suitability"
)

// outputs returns every file of the run folder, one after the other.
func outputs(t *testing.T, r *suitability.Result) []byte {
	t.Helper()
	var b bytes.Buffer
	for _, name := range run.Files() {
		if err := run.WriteFile(&b, name, r); err != nil {
			t.Fatal(err)
		}
	}
	return b.Bytes()
}

// TestSameBytes: 1 or 8 workers, survey polygons in any order and rings from any start give the same files.
func TestSameBytes(t *testing.T) {
	s := export(t, "ssurgo-ar017")
	var faults diag.List
	fields := readFields(t, filepath.Join(shared, "data", "fields-ar017-invented"), "fields.geojson", &faults)
	want := outputs(t, screenReal(t, fields, s, 1, &faults))
	if got := outputs(t, screenReal(t, fields, s, 8, &faults)); !bytes.Equal(got, want) {
		t.Error("8 workers write other bytes than 1")
	}
	const seed = 7
	if got := outputs(t, screenReal(t, fields, shuffled(t, s, seed), 8, &faults)); !bytes.Equal(got, want) {
		t.Errorf("survey polygons in another order (seed %d) change the files", seed)
	}
}

// TestSameFaults: fields are finished by several workers, and yet of more faults than are kept the same ones are.
func TestSameFaults(t *testing.T) {
	s := export(t, "ssurgo-ar017")
	var fields []field.Field
	for i := range 60 { // a row of squares beyond the eastern edge of the county
		west, south := -90.9+float64(i)*0.002, 33.3
		ring := orb.Ring{{west, south}, {west + 0.001, south}, {west + 0.001, south + 0.001}, {west, south + 0.001}, {west, south}}
		fields = append(fields, field.Field{ID: fmt.Sprint("F", i+1), Shape: orb.MultiPolygon{{ring}}})
	}
	var want []diag.Fault
	for _, workers := range []int{1, 8, 8, 8} {
		var faults diag.List
		screenReal(t, fields, s, workers, &faults)
		got := faults.Kept()
		if want == nil {
			want = got
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%d workers tell %v, want %v", workers, got, want)
		}
	}
	if at := slices.IndexFunc(want, func(f diag.Fault) bool { return f.Ground == "F5" && len(f.More) == 55 }); at < 0 {
		t.Errorf("of 60 fields outside the survey the first five are to be kept and the others counted, got %v", want)
	}
}

// TestUnitsInNoTable: a map of one edition with tables of another says how much ground that leaves unrated; with no tables at all the
// reader of the survey has said so already.
func TestUnitsInNoTable(t *testing.T) {
	s := export(t, "ssurgo-ar017")
	var none diag.List
	fields := readFields(t, filepath.Join(shared, "data", "fields-ar017-invented"), "fields.geojson", &none)
	without := func(gone func(key string) bool) string {
		fewer := *s.survey
		fewer.Units = slices.DeleteFunc(slices.Clone(s.survey.Units), func(u soils.MapUnit) bool { return gone(u.Key) })
		var faults diag.List
		screenReal(t, fields, &testSurvey{export: s.export, survey: &fewer}, 2, &faults)
		return faults.String()
	}
	// GrB, Grenada silt loam: the largest unit of the first field.
	if said := without(func(key string) bool { return key == "565263" }); !strings.Contains(said, "of the fields have a map unit (key 565263) that is in none of the tables") {
		t.Error(said)
	}
	if said := without(func(key string) bool { return key < "565280" }); !strings.Contains(said, "map units (such as key 565263) that are in none of the tables") {
		t.Error(said)
	}
	for name, said := range map[string]string{"all": without(func(string) bool { return false }), "no tables": without(func(string) bool { return true })} {
		if strings.Contains(said, "in none of the tables") {
			t.Errorf("%s: %s", name, said)
		}
	}
}

// shuffled hands out the same polygons in another order, each ring from another start.
func shuffled(t *testing.T, s *testSurvey, seed uint64) *testSurvey {
	t.Helper()
	out := &testSurvey{survey: s.survey}
	err := s.export.Polygons(context.Background(), func(p ssurgo.Polygon) error { out.polygons = append(out.polygons, p); return nil })
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(seed, 0))
	r.Shuffle(len(out.polygons), func(i, k int) { out.polygons[i], out.polygons[k] = out.polygons[k], out.polygons[i] })
	for _, p := range out.polygons {
		for _, part := range p.Shape {
			for k, ring := range part {
				open := ring[:len(ring)-1]
				at := r.IntN(len(open))
				turned := append(append(orb.Ring{}, open[at:]...), open[:at]...)
				part[k] = append(turned, turned[0])
			}
		}
	}
	return out
}

// TestShuffledFieldsGiveTheSameZonesInTheNewOrder.
func TestShuffledFieldsGiveTheSameZonesInTheNewOrder(t *testing.T) {
	s := export(t, "ssurgo-ar017")
	var faults diag.List
	fields := readFields(t, filepath.Join(shared, "data", "fields-ar017-invented"), "fields.geojson", &faults)
	first := screenReal(t, fields, s, 0, &faults)
	turned := slices.Clone(fields)
	slices.Reverse(turned)
	second := screenReal(t, turned, s, 0, &faults)
	if len(first.Zones) != len(second.Zones) {
		t.Fatalf("%d zones, then %d", len(first.Zones), len(second.Zones))
	}
	byID := map[string]*suitability.Zone{}
	for i := range second.Zones {
		byID[second.Zones[i].ID] = &second.Zones[i]
	}
	for i := range first.Zones {
		a, b := &first.Zones[i], byID[first.Zones[i].ID]
		if b == nil || a.Area != b.Area || a.Rating.Class != b.Rating.Class || !a.Shape.Equal(b.Shape) {
			t.Errorf("zone %s differs when the fields come in another order", a.ID)
		}
	}
	if got := second.Fields[0].ID; got != fields[len(fields)-1].ID {
		t.Errorf("first field is %s, want the order of the input", got)
	}
}

// TestCancelledScreenStops: a cancelled context ends the job with its cause.
func TestCancelledScreenStops(t *testing.T) {
	s := export(t, "ssurgo-ar017")
	var faults diag.List
	fields := readFields(t, filepath.Join(shared, "data", "fields-ar017-invented"), "fields.geojson", &faults)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Screen(ctx, fields, s, Options{}, &faults); err == nil {
		t.Error("a cancelled job gave a result")
	}
}
