package job

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/run"
	"rootworthy/raster/interp"
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

func splitRun(t testing.TB, workers int, split *Split, faults *diag.List, more ...lab.Sample) (*suitability.Result, error) {
	t.Helper()
	fields, s := tarnHollow(t)
	how := interp.OrdinaryKriging
	opt := Options{Workers: workers, Tests: &Tests{Samples: append(gridOfBags(fields[5].Shape, 8), more...), Surface: &how, Split: split}}
	opt.Lime.Date = day
	return Screen(context.Background(), fields, s, opt, faults)
}

// A split field keeps its ground: no zone of another field changes, areas add up, zones do not overlap, their pH is more
// alike than before, and the workers change no byte.
func TestSplitKeepsTheGround(t *testing.T) {
	var faults, quiet diag.List
	whole, err := splitRun(t, 2, nil, &quiet)
	if err != nil {
		t.Fatal(err)
	}
	r, err := splitRun(t, 1, &Split{Most: 3, Width: 20}, &faults)
	if err != nil {
		t.Fatal(err)
	}
	area := func(r *suitability.Result, field string) (sum unit.Area, n int) {
		for i := range r.Zones {
			if r.Zones[i].FieldID == field {
				sum, n = sum+r.Zones[i].Area, n+1
			}
		}
		return sum, n
	}
	for _, f := range whole.Fields {
		a, n := area(whole, f.ID)
		b, m := area(r, f.ID)
		if math.Abs(float64(a-b)) > 1e-6*float64(a) || (m > n) != (f.ID == "F6") || m > 3*n {
			t.Errorf("%s: %v m² in %d zones, split %v m² in %d", f.ID, a, n, b, m)
		}
	}
	widest := func(r *suitability.Result) (most unit.PH) {
		for i := range r.Zones {
			if x := r.Zones[i].Rating.Tested.Surface; x != nil {
				most = max(most, x.Most-x.Least)
			}
		}
		return most
	}
	tiles(t, r, "F6")
	if a, b := widest(whole), widest(r); !(b < 0.6*a) {
		t.Errorf("pH within a zone ranges over %v, before the split over %v", b, a)
	}
	if !strings.Contains(faults.String(), "split by tested pH into 3 zones") {
		t.Errorf("not told:\n%s", faults.String())
	}
	many, err := splitRun(t, 4, &Split{Most: 3, Width: 20}, &quiet)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range run.Files() {
		var x, y bytes.Buffer
		if run.WriteFile(&x, name, r) != nil || run.WriteFile(&y, name, many) != nil || !bytes.Equal(x.Bytes(), y.Bytes()) {
			t.Errorf("%s differs by the number of workers", name)
		}
	}
}

// A split numbers zones anew: a sample for F6/1 would then speak for other ground than its sender meant.
func TestSplitRefusesNamedZones(t *testing.T) {
	var faults diag.List
	_, err := splitRun(t, 1, &Split{Most: 3}, &faults, sample("own", lab.Place{Zone: "F6/1"}, 0, 15, 6, 6.2))
	if err == nil || !strings.Contains(err.Error(), "a split numbers zones anew") {
		t.Error(err)
	}
}

// A spreader wider than the field splits nothing, and that is told.
func TestSplitTooWide(t *testing.T) {
	var faults diag.List
	r, err := splitRun(t, 1, &Split{Most: 3, Width: 5000}, &faults)
	if err != nil || !strings.Contains(faults.String(), "no two zones of that width differ enough") {
		t.Fatal(err, faults.String())
	}
	whole, err := splitRun(t, 1, nil, &diag.List{})
	if err != nil || len(r.Zones) != len(whole.Zones) {
		t.Error(err, len(r.Zones), len(whole.Zones))
	}
}
