package job

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// A hillside of 12 % that faces west is lit as its slope says, five times as steep as it is: its 12 % become 60 %, the
// least that shows. Where there are no heights there is no light.
func TestShadeOfAHillside(t *testing.T) {
	for _, cell := range []float64{10, 2} {
		h := hillside(t, cell)
		fields, _ := onTheHill(t, h)
		var faults diag.List
		s, err := Shade(context.Background(), h, []orb.MultiPolygon{fields[0].Shape, fields[1].Shape}, &faults)
		if err != nil || s == nil || faults.Faults()+faults.Notices() > 0 {
			t.Fatalf("%v %v %s", s, err, &faults)
		}
		if s.Exaggeration != 5 {
			t.Errorf("cells of %v m: drawn %v times as steep, want 5", cell, s.Exaggeration)
		}
		// Rises 0.6 to the east: n = (-0.6, 0, 1)/√1.36, the sun (-½, ½, √½).
		want := (0.3 + math.Sqrt(0.5)) / math.Sqrt(1.36)
		if got, ok := s.Light(fields[0].Shape.Bound().Center()); !ok || math.Abs(got-want) > 1e-3 {
			t.Errorf("cells of %v m: light %v (%v), want %v", cell, got, ok, want)
		}
		if _, ok := s.Light(fields[1].Shape.Bound().Center()); ok {
			t.Error("light where there are no heights")
		}
		if !s.Bound().Contains(fields[0].Shape.Bound().Center()) {
			t.Errorf("bound %v", s.Bound())
		}
	}
}

// Without heights, and where the raster lies elsewhere, there is no shading; that is no error.
func TestShadeOfNothing(t *testing.T) {
	var faults diag.List
	if s, err := Shade(context.Background(), nil, nil, &faults); s != nil || err != nil {
		t.Errorf("%v %v", s, err)
	}
	h := hillside(t, 10)
	away := orb.MultiPolygon{{{{-80, 30}, {-79.99, 30}, {-79.99, 30.01}, {-80, 30}}}}
	s, err := Shade(context.Background(), h, []orb.MultiPolygon{away}, &faults)
	if s != nil || err != nil {
		t.Errorf("%v %v", s, err)
	}
	if _, ok := s.Light(orb.Point{-80, 30}); ok {
		t.Error("no shading gives light")
	}
}

// Where the heights of all fields together are too many, each field is read by itself.
func TestShadeFieldByField(t *testing.T) {
	h := hillside(t, 10)
	fields, _ := onTheHill(t, h)
	var faults diag.List
	r, err := newRelief(h, &faults)
	if err != nil {
		t.Fatal(err)
	}
	shapes := []orb.MultiPolygon{fields[0].Shape, fields[0].Shape, fields[1].Shape}
	if z, err := r.pieces(context.Background(), shapes, 100); len(z) != 2 || err != nil {
		t.Errorf("%d pieces, %v; want one for each field that has heights", len(z), err)
	}
	if z, err := r.pieces(context.Background(), shapes, maxShade); len(z) != 1 || err != nil {
		t.Errorf("%d pieces, %v; want one", len(z), err)
	}
}

// Light is found by the mesh as it is by looking through all parts.
func TestLightIsFoundByTheMesh(t *testing.T) {
	h := hillside(t, 10)
	fields, _ := onTheHill(t, h)
	r, err := newRelief(h, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	s := &Shading{}
	for _, corner := range fields[0].Shape[0][0][:4] {
		z, err := r.piece(context.Background(), orb.MultiPolygon{{{corner, corner, corner}}}, maxHeights)
		if err != nil || z == nil {
			t.Fatal(z, err)
		}
		s.parts = append(s.parts, shadedPart{z, lonLatBound(z.Frame())})
	}
	s.lay()
	slow, b, found := &Shading{bound: s.bound, near: make([][]int32, mesh*mesh), parts: s.parts}, s.Bound(), 0
	for c := range slow.near {
		for i := range s.parts {
			slow.near[c] = append(slow.near[c], int32(i))
		}
	}
	for k := range 2000 {
		at := orb.Point{b.Min[0] + (b.Max[0]-b.Min[0])*float64(k%50)/49, b.Min[1] + (b.Max[1]-b.Min[1])*float64(k/50)/39}
		got, ok := s.Light(at)
		if want, known := slow.Light(at); got != want || ok != known {
			t.Fatalf("at %v: %v (%v), looking through all %v (%v)", at, got, ok, want, known)
		}
		if ok {
			found++
		}
	}
	if found < 200 || found > 1999 {
		t.Errorf("light at %d of 2,000 places: the test shows nothing", found)
	}
}
