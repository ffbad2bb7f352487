package proj

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// someOfEach are systems of every method, both hemispheres and all units.
func someOfEach(t testing.TB) []CRS {
	var all []CRS
	for _, code := range []int{4326, 4269, 26915, 32615, 32760, 5070, 3338, 3857, 26931, 3079, 8065, 2225, 2264, 26957, 6792, 3978, 3005, 6352} {
		crs, err := FromEPSG(code)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, crs)
	}
	return all
}

// ground returns the distance in metres between two places near each other.
func ground(a, b orb.Point) float64 {
	dlon := math.Remainder(a[0]-b[0], 360) * math.Cos(a[1]*degree)
	return math.Hypot(dlon, a[1]-b[1]) * degree * meanRadius
}

// TestRoundTripOverDomain: wherever on Earth a system takes a point, it gives it back within 0.1 mm. The last 0.01
// degrees to the poles are left out: conics and equal-area projections lose digits there, as doc.go says.
func TestRoundTripOverDomain(t *testing.T) {
	all := someOfEach(t)
	taken := make([]int, len(all))
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, len(all)-1).Draw(t, "system")
		p := orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-89.99, 89.99).Draw(t, "lat")}
		xy, ok := all[i].FromLonLat(p)
		if !ok {
			return
		}
		taken[i]++
		back, ok := all[i].ToLonLat(xy)
		if !ok && math.Abs(math.Abs(p[0])-180) < 1e-9 {
			return // rounding took it over the 180th meridian
		}
		if d := ground(p, back); !ok || !(d < 1e-4) {
			t.Fatalf("%v (%s): %v → %v → %v, %v: %g m off", all[i], all[i].Name(), p, xy, back, ok, d)
		}
	})
}

// TestRoundTripAtHome: over the States the round trip holds to 1e-9 degrees for every system that takes the point.
func TestRoundTripAtHome(t *testing.T) {
	all := someOfEach(t)
	rapid.Check(t, func(t *rapid.T) {
		crs := rapid.SampledFrom(all).Draw(t, "system")
		p := orb.Point{rapid.Float64Range(-125, -66).Draw(t, "lon"), rapid.Float64Range(24, 50).Draw(t, "lat")}
		xy, ok := crs.FromLonLat(p)
		back, ok2 := crs.ToLonLat(xy)
		if !ok && (crs.kind == methodTM || crs.kind == methodHotineA) { // too far from its meridian or centre
			return
		}
		if !ok || !ok2 || !(math.Abs(back[0]-p[0]) < 1e-9) || !(math.Abs(back[1]-p[1]) < 1e-9) {
			t.Fatalf("%v: %v → %v, %v → %v, %v", crs, p, xy, ok, back, ok2)
		}
	})
}

// TestNothingButNumbers: whatever goes in, what comes out as ok is finite, and on Earth where it should be.
func TestNothingButNumbers(t *testing.T) {
	special := []float64{0, math.Copysign(0, -1), 90, -90, 180, -180, 360, 1e-300, 1e7, -2e7, 1e18, math.MaxFloat64,
		math.Inf(1), math.Inf(-1), math.NaN(), 89.999999999, -93.5, 42, 5e5}
	for _, crs := range append(someOfEach(t), CRS{}, mustEPSG(t, 4267), mustEPSG(t, 26715), mustEPSG(t, 26741)) {
		for _, a := range special {
			for _, b := range special {
				if xy, ok := crs.FromLonLat(orb.Point{a, b}); ok && (!finite(xy[0], xy[1]) || !onEarth(a, b)) {
					t.Errorf("%v FromLonLat(%v, %v) = %v", crs, a, b, xy)
				}
				if p, ok := crs.ToLonLat(orb.Point{a, b}); ok && !onEarth(p[0], p[1]) {
					t.Errorf("%v ToLonLat(%v, %v) = %v", crs, a, b, p)
				}
			}
		}
	}
}

// TestPoles: the pole a cone or plane closes on has a place and comes back; the far one has none in a conformal cone.
func TestPoles(t *testing.T) {
	for code, takes := range map[int][2]bool{ // north, south
		4326: {true, true}, 5070: {true, true}, 3978: {true, false}, 26915: {true, true}, 3857: {false, false},
	} {
		crs, _ := FromEPSG(code)
		for i, lat := range []float64{90, -90} {
			xy, ok := crs.FromLonLat(orb.Point{-96, lat})
			back, ok2 := crs.ToLonLat(xy)
			if ok != takes[i] || ok && (!ok2 || math.Abs(back[1]-lat) > 1e-6) {
				t.Errorf("%v: pole %v → %v, %v → %v, %v", crs, lat, xy, ok, back, ok2)
			}
		}
	}
}

// TestTransverseMercatorLimit: 33 degrees from the meridian at the equator are taken, 40 are not.
func TestTransverseMercatorLimit(t *testing.T) {
	crs, _ := FromEPSG(32631) // central meridian 3 E
	if _, ok := crs.FromLonLat(orb.Point{35.9, 0}); !ok {
		t.Error("33 degrees off the central meridian refused")
	}
	if xy, ok := crs.FromLonLat(orb.Point{43, 0}); ok {
		t.Errorf("40 degrees off the central meridian taken: %v", xy)
	}
	if p, ok := crs.ToLonLat(orb.Point{9e6, 0}); ok {
		t.Errorf("8,500 km east taken: %v", p)
	}
}
