package job

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/run"
	"rootworthy/raster/interp"
	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// gridOfBags lays bags over a field whose pH and buffer pH rise from west to east.
func gridOfBags(shape orb.MultiPolygon, side int) []lab.Sample {
	b := shape.Bound()
	var out []lab.Sample
	for i := range side {
		for j := range side {
			x, y := (float64(i)+0.5)/float64(side), (float64(j)+0.5)/float64(side)
			p := orb.Point{b.Min[0] + x*(b.Max[0]-b.Min[0]), b.Min[1] + y*(b.Max[1]-b.Min[1])}
			if planar.MultiPolygonContains(shape, p) {
				wave := 0.05 * math.Sin(9*y+5*x)
				out = append(out, sample("p", lab.Place{Point: unit.Some(p)}, 0, 15, 5.2+x+wave, 5.8+0.7*x+wave/2))
			}
		}
	}
	return out
}

func onSurfaces(t testing.TB, fields []field.Field, s Survey, how interp.Method, workers int, faults *diag.List, samples []lab.Sample) *suitability.Result {
	t.Helper()
	m, _ := lime.MethodByName("nc-mehlich")
	opt := Options{Workers: workers, Tests: &Tests{Samples: samples, Method: &m, Surface: &how}}
	opt.Lime.Date = day
	r, err := Screen(context.Background(), fields, s, opt, faults)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A zone reads the pH that lies under it; the fit goes with it; fields without points stay as they were; whatever the
// workers, the bytes are the same.
func TestZonesReadSurfaces(t *testing.T) {
	fields, s := tarnHollow(t)
	bags := gridOfBags(fields[5].Shape, 8)
	var faults diag.List
	r := onSurfaces(t, fields, s, interp.OrdinaryKriging, 1, &faults, bags)
	plain := withTests(t, fields, s, 1, &faults)
	b := fields[5].Shape.Bound()
	for i := range r.Zones {
		z := &r.Zones[i]
		if z.FieldID != "F6" {
			if z.Rating.Tested.Any() || z.Lime.Basis != plain.Zones[i].Lime.Basis {
				t.Errorf("%s changed by points of another field", z.ID)
			}
			continue
		}
		top := z.Rating.Tested.Surface
		if top == nil || top.Fit == nil || top.Fit.Variogram == "" || !top.Fit.Error.Has() || top.Fit.Found >= top.Fit.FoundMean {
			t.Fatalf("%s: %+v", z.ID, top)
		}
		middle, _ := planar.CentroidArea(z.Shape)
		want := 5.2 + (middle[0]-b.Min[0])/(b.Max[0]-b.Min[0])
		if math.Abs(float64(top.PH)-want) > 0.1 { // a slope has at its middle what it has in the mean
			t.Errorf("%s: pH %v; the points say %v", z.ID, top.PH, want)
		}
		if l, ok := z.Lime.Likely.Get(); ok && z.Lime.Test != nil && z.Lime.Test.Fit != nil {
			least, most := unit.AreaRate(math.Inf(1)), unit.AreaRate(0)
			for _, x := range z.Lime.Test.Samples {
				least, most = min(least, x.Figure.Or(0)), max(most, x.Figure.Or(0))
			}
			if l < least || l > most || z.Lime.Low.Or(0) > l || z.Lime.High.Or(0) < l {
				t.Errorf("%s: lime %v (%v to %v) of samples from %v to %v", z.ID, l, z.Lime.Low, z.Lime.High, least, most)
			}
		} else if ok {
			t.Errorf("%s: lime is not read from a surface", z.ID)
		}
	}
	if len(r.Provenance.Surfaces) != 2 || !r.Provenance.Surfaces[0].Used || r.Provenance.Surfaces[1].Of != "lime" {
		t.Errorf("told: %+v", r.Provenance.Surfaces)
	}
	many := onSurfaces(t, fields, s, interp.OrdinaryKriging, 4, &faults, bags)
	for _, name := range run.Files() {
		var x, y bytes.Buffer
		if run.WriteFile(&x, name, r) != nil || run.WriteFile(&y, name, many) != nil || !bytes.Equal(x.Bytes(), y.Bytes()) {
			t.Errorf("%s differs by the number of workers", name)
		}
	}
}

// Where a surface is not worth its name zones keep the means of their own bags, and that is told.
func TestNoSurface(t *testing.T) {
	fields, s := tarnHollow(t)
	few := gridOfBags(fields[5].Shape, 3)
	equal := gridOfBags(fields[5].Shape, 8)
	for i := range equal {
		equal[i].PH, equal[i].Buffer.Mehlich = unit.Some(unit.PH(5.8)), unit.Some(unit.PHMehlich(6.2))
	}
	random := gridOfBags(fields[5].Shape, 6)
	for i := range random { // a checkerboard: neighbours are less alike than those farther off
		random[i].PH = unit.Some(unit.PH(5.4 + 0.6*float64((i/6+i)%2)))
	}
	for name, c := range map[string]struct {
		bags []lab.Sample
		why  string
	}{"few": {few, interp.FewPoints}, "equal": {equal, interp.AllEqual}, "checkerboard": {random, "no better than the mean"}} {
		var faults, other diag.List
		got := onSurfaces(t, fields, s, interp.OrdinaryKriging, 2, &faults, c.bags)
		want := withTests(t, fields, s, 2, &other, c.bags...)
		if len(got.Provenance.Surfaces) == 0 || got.Provenance.Surfaces[0].Why != c.why || !strings.Contains(faults.String(), "mean of its own bags") {
			t.Errorf("%s: %+v\n%s", name, got.Provenance.Surfaces, faults.String())
		}
		for i := range got.Zones {
			a, b := got.Zones[i].Rating.Tested.Surface, want.Zones[i].Rating.Tested.Surface
			if (a == nil) != (b == nil) || a != nil && (a.PH != b.PH || a.Fit != nil) {
				t.Errorf("%s: %s: %+v, %+v", name, got.Zones[i].ID, a, b)
			}
		}
	}
}

// Bags that name their zone are nearer to it than any surface.
func TestNamedZoneKeepsItsBags(t *testing.T) {
	fields, s := tarnHollow(t)
	bags := append(gridOfBags(fields[5].Shape, 8), sample("own", lab.Place{Zone: "F6/1"}, 0, 15, 6.9, 6.6))
	var faults diag.List
	r := onSurfaces(t, fields, s, interp.InverseDistance, 2, &faults, bags)
	if x := zoneOf(t, r, "F6/1").Rating.Tested.Surface; x.Fit != nil {
		t.Errorf("F6/1: %+v", x)
	}
	if x := zoneOf(t, r, "F6/2").Rating.Tested.Surface; x.Fit == nil || x.Fit.Error.Has() {
		t.Errorf("F6/2: %+v", x)
	}
}
