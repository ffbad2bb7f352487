package proj

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/tidwall/geodesic"
)

// closed makes a ring from latitude, longitude pairs, the order geodesic examples use.
func closed(latLon ...float64) orb.Ring {
	var ring orb.Ring
	for i := 0; i < len(latLon); i += 2 {
		ring = append(ring, orb.Point{latLon[i+1], latLon[i]})
	}
	return append(ring, ring[0])
}

// TestGeodesicArea holds areas to examples of GeographicLib's Planimeter (read, WGS 84, with the tolerances of its own tests).
func TestGeodesicArea(t *testing.T) {
	for _, c := range []struct {
		ring            orb.Ring
		perimeter, area float64 // perimeter 0: not given
		tolP, tol       float64
	}{
		{closed(89, 0, 89, 90, 89, 180, 89, 270-360), 631819.8745, 24952305678, 1e-4, 1},
		{closed(0, -1, -1, 0, 0, 1, 1, 0), 627598.2731, 24619419146, 1e-4, 1},
		{closed(90, 0, 0, 0, 0, 90), 30022685, 63758202715511, 1, 1},
		{closed(2, 1, 1, 2, 3, 3), 0, 18454562325.45119, 0, 1e-4},
		// Computed: cell 93.60-93.59 W, 42.00-42.01 N.
		{closed(42, -93.6, 42, -93.59, 42.01, -93.59, 42.01, -93.6), 3878.3531, 920179.3719, 0.5e-4, 0.5e-4},
	} {
		got, ok := GeodesicArea(orb.MultiPolygon{{c.ring}}, GeodesicOptions{})
		if !ok || math.Abs(got-c.area) > c.tol {
			t.Errorf("GeodesicArea(%v) = %.5f, %v, want %.5f", c.ring, got, ok, c.area)
		}
		if p := perimeter(c.ring); c.perimeter > 0 && math.Abs(p-c.perimeter) > c.tolP {
			t.Errorf("perimeter of %v = %.4f, want %.4f", c.ring, p, c.perimeter)
		}
	}
}

// perimeter adds the geodesics of a closed ring, in metres.
func perimeter(ring orb.Ring) (sum float64) {
	for i := 1; i < len(ring); i++ {
		var s float64
		geodesic.WGS84.Inverse(ring[i-1][1], ring[i-1][0], ring[i][1], ring[i][0], &s, nil, nil)
		sum += s
	}
	return sum
}

// TestGeodSolve74 is a short geodesic, whose area down to the equator is hard to get right. Source: GeographicLib's test
// GeodSolve74 (read), with its tolerances.
func TestGeodSolve74(t *testing.T) {
	a, b := orb.Point{15.3872, 54.1589}, orb.Point{15.3877, 54.1591}
	if s := perimeter(orb.Ring{a, b}); math.Abs(s-39.527686385) > 5e-9 {
		t.Errorf("distance = %.10f m, want 39.527686385", s)
	}
	under := orb.Ring{{a[0], 0}, {b[0], 0}, b, a, {a[0], 0}}
	got, ok := GeodesicArea(orb.MultiPolygon{{under}}, GeodesicOptions{})
	if !ok || math.Abs(got-286698586.30197) > 5e-4 {
		t.Errorf("area under the geodesic = %.5f m², want 286698586.30197", got)
	}
}

// TestAlbersCornersOfTheCell: the cell's corners joined by straight lines in EPSG:5070. Computed with PROJ 9.1.1.
func TestAlbersCornersOfTheCell(t *testing.T) {
	ring := closed(42, -93.6, 42, -93.59, 42.01, -93.59, 42.01, -93.6)
	flat, err := PlaneFor(ring.Bound()).ForwardMultiPolygon(orb.MultiPolygon{{ring}}, false)
	if err != nil {
		t.Fatal(err)
	}
	if got := planarArea(flat[0][0]); math.Abs(got-920179.3710) > 0.5e-4 {
		t.Errorf("area = %.5f m², want 920179.3710", got)
	}
}

// TestGeodesicHoles: holes are taken off, parts added, orientation of no account; cutting edges gives the area between
// parallels, which is known in closed form.
func TestGeodesicHoles(t *testing.T) {
	outer, inner := closed(42, -94, 42, -93, 43, -93, 43, -94), closed(42.4, -93.6, 42.6, -93.6, 42.6, -93.4, 42.4, -93.4)
	cell := func(w, s, e, n float64) float64 { // area between meridians and parallels, from the authalic latitude
		el := wgs84()
		return el.a * el.a / 2 * (e - w) * degree * (el.authalicQ(math.Sin(n*degree)) - el.authalicQ(math.Sin(s*degree)))
	}
	mp := orb.MultiPolygon{{outer, inner}, {closed(10, 10, 10, 11, 11, 11, 11, 10)}}
	want := cell(-94, 42, -93, 43) - cell(-93.6, 42.4, -93.4, 42.6) + cell(10, 10, 11, 11)
	got, ok := GeodesicArea(mp, GeodesicOptions{Step: 20})
	if !ok || math.Abs(got/want-1) > 1e-9 {
		t.Errorf("GeodesicArea = %.3f, %v, want %.3f (%.2g off)", got, ok, want, got/want-1)
	}
	whole, _ := GeodesicArea(mp, GeodesicOptions{})
	if math.Abs(whole/want-1) < 1e-6 {
		t.Errorf("edges of a degree as geodesics give the parallels' area: %.3f", whole)
	}
}

func TestGeodesicRefuses(t *testing.T) {
	for _, ring := range []orb.Ring{{{0, 91}, {1, 1}, {2, 2}}, {{math.NaN(), 0}}, {{0, math.Inf(1)}}, {{200, 0}}} {
		if a, ok := GeodesicArea(orb.MultiPolygon{{ring}}, GeodesicOptions{}); ok {
			t.Errorf("GeodesicArea(%v) = %v", ring, a)
		}
	}
	for _, ring := range []orb.Ring{nil, {{1, 1}}, {{1, 1}, {2, 2}}, {{1, 1}, {1, 1}, {1, 1}}} {
		if a, ok := GeodesicArea(orb.MultiPolygon{{ring}}, GeodesicOptions{Step: -1}); !ok || a != 0 {
			t.Errorf("GeodesicArea(%v) = %v, %v, want 0", ring, a, ok)
		}
	}
}
