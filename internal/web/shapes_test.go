package web

import (
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
	zones, fields := collection("zones"), collection("fields")
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
	for _, wrong := range []string{"shapes/none", "shape/-1", "shape/999", "shape/x"} {
		if code, _ := s.get("/run/1/" + wrong); code != 404 {
			t.Errorf("%s: %d", wrong, code)
		}
	}
}
