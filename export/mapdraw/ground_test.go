package mapdraw

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/tidwall/geodesic"
)

// Lengths on a map agree with geodesics, as GeographicLib's algorithm has them (tidwall/geodesic), to 1 in 10,000 over a
// large field.
func TestGroundAgreesWithGeodesics(t *testing.T) {
	for _, at := range []orb.Point{{-91.2, 33.1}, {-78.2, 32.6}, {-150, 64.8}, {10, 0}, {-60, -35}} {
		g := groundAt(at)
		for _, d := range []orb.Point{{0.01, 0}, {0, 0.01}, {0.007, 0.007}} {
			var want float64
			geodesic.WGS84.Inverse(at[1]-d[1]/2, at[0]-d[0]/2, at[1]+d[1]/2, at[0]+d[0]/2, &want, nil, nil)
			if got := math.Hypot(d[0]*g.perLon, d[1]*g.perLat); math.Abs(got-want) > 1e-4*want {
				t.Errorf("at %v, step %v: %.3f m, geodesic %.3f m", at, d, got, want)
			}
		}
	}
}

// Ticks number two to five on a side and three to five on most; labels have the decimals of their step.
func TestTicksAreRoundAndFew(t *testing.T) {
	few, all := 0, 0
	for _, span := range []float64{0.0004, 0.0013, 0.0119, 0.0299, 0.05, 0.31, 0.77, 2, 2.6, 4, 9, 25, 60} {
		for _, low := range []float64{-91.2345, -78.2, 33.1111, 0.001} {
			step, decimals := degreeStep(low, low+span, 500, 13)
			n := int(math.Floor((low+span)/step)-math.Ceil(low/step)) + 1
			if n < 2 || n > 5 {
				t.Errorf("span %v from %v: %d ticks of %v", span, low, n, step)
			}
			if scaled := step * math.Pow(10, float64(decimals)); math.Abs(scaled-math.Round(scaled)) > 1e-6 {
				t.Errorf("step %v does not show in %d decimals", step, decimals)
			}
			all++
			if n < 3 {
				few++
			}
		}
	}
	if few*4 > all {
		t.Errorf("%d of %d spans have under three ticks", few, all)
	}
}

// The longest of 1, 2, 4 or 5 times a power of ten that has room, and never under a metre, even where that has none.
func TestScaleBarIsRound(t *testing.T) {
	for most, want := range map[float64]float64{0.5: 1, 3: 2, 123: 100, 399: 200, 401: 400, 999: 500, 52000: 50000} {
		if got := roundLength(most); got != want {
			t.Errorf("roundLength(%v) = %v, want %v", most, got, want)
		}
	}
}
