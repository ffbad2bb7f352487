package soildata

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/diag"
)

// 120 neighbours make two full groups and the rest; the far field does not stretch their box.
func TestNeighboursAreAskedForTogether(t *testing.T) {
	var fields []Outline
	for i := range 120 {
		fields = append(fields, Outline{ID: fmt.Sprint(i), Shape: square(-91+float64(i%10)*0.01, 33+float64(i/10)*0.01, 0.01)})
	}
	fields = append(fields, Outline{ID: "far", Shape: square(-80, 33, 0.01)})
	var faults diag.List
	groups := grouped(fields, &faults)
	if len(groups) != 4 || len(groups[0].fields) != 50 || len(groups[2].fields) != 20 || groups[3].ids() != "far" || faults.Faults() > 0 {
		t.Errorf("%d groups, faults:\n%s", len(groups), &faults)
	}
	a, b := groups[0].halves()
	if len(a.fields) != 25 || len(b.fields) != 25 || a.points+b.points != groups[0].points {
		t.Errorf("halves of %d and %d fields", len(a.fields), len(b.fields))
	}
}

// What is sent is nothing but numbers in one valid shape, whatever the fields.
func TestOutlineText(t *testing.T) {
	only := regexp.MustCompile(`^MULTIPOLYGON \([-0-9., ()]+\)$`)
	bowtie := orb.MultiPolygon{{{{0, 0}, {0.01, 0.01}, {0.01, 0}, {0, 0.01}, {0, 0}}}}
	for name, tc := range map[string]struct {
		shapes []orb.MultiPolygon
		area   float64 // square degrees
	}{
		"one":          {[]orb.MultiPolygon{square(-91, 33, 0.01)}, 1e-4},
		"side by side": {[]orb.MultiPolygon{square(-91, 33, 0.01), square(-90.99, 33, 0.01)}, 2e-4},
		"overlapping":  {[]orb.MultiPolygon{square(-91, 33, 0.01), square(-90.995, 33, 0.01)}, 1.5e-4},
		"the same":     {[]orb.MultiPolygon{square(-91, 33, 0.01), square(-91, 33, 0.01)}, 1e-4},
		"crossing":     {[]orb.MultiPolygon{bowtie}, 0.5e-4},
		"too long":     {[]orb.MultiPolygon{circle(-91, 33, 0.005, 5000)}, 1e-4}, // the box around
	} {
		var g group
		for _, s := range tc.shapes {
			g.fields = append(g.fields, Outline{Shape: s})
		}
		text := regroup(g.fields).text(10_000)
		shape, err := wkt.UnmarshalMultiPolygon(text)
		if !only.MatchString(text) || err != nil || len(text) > 10_000 {
			t.Errorf("%s: %.200s: %v", name, text, err)
			continue
		}
		if got := planar.Area(shape); math.Abs(got-tc.area) > 1e-9 { // a hundred grid cells along an edge of 1 km
			t.Errorf("%s: %g square degrees, want %g: %s", name, got, tc.area, text)
		}
	}
}

func circle(x, y, r float64, corners int) orb.MultiPolygon {
	var ring orb.Ring
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(corners))
		ring = append(ring, orb.Point{x + r*cos, y + r*sin})
	}
	return orb.MultiPolygon{{append(ring, ring[0])}}
}

func TestFieldsOffTheEarthAreTold(t *testing.T) {
	var faults diag.List
	groups := grouped([]Outline{{ID: "utm", Shape: square(500000, 3700000, 100)}, {ID: "nan", Shape: square(math.NaN(), 33, 1)}, {ID: "empty"}}, &faults)
	if len(groups) != 0 || faults.Faults() != 2 || !strings.Contains(faults.String(), "utm") || !strings.Contains(faults.String(), "nan") {
		t.Errorf("%d groups, faults:\n%s", len(groups), &faults)
	}
}
