package web

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// numbered is a feature as the map gets it.
type numbered struct {
	ID       float64
	Geometry struct {
		Type        string
		Coordinates orb.MultiPolygon
	}
}

// The map gets every zone and field under its number, the page their boxes and a place for each letter; together they are
// the run's, to a tenth of a metre.
func TestShapesOfTheMap(t *testing.T) {
	s := serve(t, nil)
	l, err := s.server.shelf.open(s.server.shelf.get(1))
	if err != nil {
		t.Fatal(err)
	}
	_, text := s.get("/run/1/shapes")
	var index struct {
		Zones, Fields [][2]orb.Point
		Letters       []orb.Point
	}
	if err := json.Unmarshal([]byte(text), &index); err != nil {
		t.Fatal(err)
	}
	collection := func(name string) []numbered {
		code, text := s.get("/run/1/shapes/" + name)
		var c struct{ Features []numbered }
		if err := json.Unmarshal([]byte(text), &c); err != nil || code != 200 {
			t.Fatalf("%s: %d %v", name, code, err)
		}
		return c.Features
	}
	zones, fields := collection("zones0"), collection("fields")
	if len(zones) != len(l.zones) || len(index.Zones) != len(l.zones) || len(index.Letters) != len(l.zones) || len(fields) != len(l.result.Fields) || len(index.Fields) != len(fields) {
		t.Fatalf("%d zones, %d boxes, %d letters, %d fields, %d boxes", len(zones), len(index.Zones), len(index.Letters), len(fields), len(index.Fields))
	}
	if n := len(collection("outside")); n != 1 {
		t.Errorf("%d pieces outside the survey, want that of F7", n)
	}
	near := func(a, b orb.Point) bool { return math.Abs(a[0]-b[0]) < 1e-6 && math.Abs(a[1]-b[1]) < 1e-6 }
	for i, f := range zones {
		b := l.zones[i].Shape.Bound()
		if f.ID != float64(i) || f.Geometry.Type != "MultiPolygon" || !near(f.Geometry.Coordinates.Bound().Min, b.Min) || !near(index.Zones[i][0], b.Min) || !near(index.Zones[i][1], b.Max) || !b.Contains(index.Letters[i]) {
			t.Errorf("zone %d: %v", i, f.ID)
		}
		_, text := s.get(fmt.Sprintf("/run/1/shape/%d", i))
		var one numbered
		if err := json.Unmarshal([]byte(text), &one); err != nil || !one.Geometry.Coordinates.Equal(f.Geometry.Coordinates) {
			t.Errorf("zone %d by itself: %v", i, err)
		}
	}
	for _, wrong := range []string{"shapes/none", "shapes/zones", "shapes/zones1", "shape/-1", "shape/999", "shape/x"} {
		if code, _ := s.get("/run/1/" + wrong); code != 404 {
			t.Errorf("%s: %d", wrong, code)
		}
	}
}

// Many zones come in pieces that together are all of them, each once and under its own number.
func TestZonesComeInPieces(t *testing.T) {
	for zones, want := range map[int]int{0: 1, 1: 1, zonesAPiece: 1, zonesAPiece + 1: 2, 10000: 4} {
		if got := pieces(zones); got != want {
			t.Errorf("%d zones in %d pieces, want %d", zones, got, want)
		}
	}
	l := newLoaded(screenDemo(t, nil))
	one := l.zones[0]
	l.zones = nil
	for range 2*zonesAPiece + 3 {
		l.zones = append(l.zones, one)
	}
	p, next := newPacked(l), 0
	for k := range 3 {
		packed, err := p.parts[partZones+string(rune('0'+k))]()
		if err != nil {
			t.Fatal(err)
		}
		z, err := gzip.NewReader(bytes.NewReader(packed))
		if err != nil {
			t.Fatal(err)
		}
		var c struct{ Features []numbered }
		if err := json.NewDecoder(z).Decode(&c); err != nil {
			t.Fatal(err)
		}
		for _, f := range c.Features {
			if f.ID != float64(next) {
				t.Fatalf("piece %d: zone %v in the place of %d", k, f.ID, next)
			}
			next++
		}
	}
	if next != len(l.zones) {
		t.Errorf("%d zones in all, want %d", next, len(l.zones))
	}
}
