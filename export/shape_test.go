package export

import (
	"math"
	"reflect"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"
)

// Each fault of a shape by itself: rings that turn the wrong way or are open, points that fall together when rounded, and what has no area,
// of which nothing is left, the holes of a vanished outer ring with it.
func TestTidyRoundsOrientsAndCloses(t *testing.T) {
	clockwise := orb.Ring{{0, 0}, {0, 1}, {1, 1}, {1, 0}, {0, 0}}
	for _, c := range []struct {
		name     string
		in, want orb.MultiPolygon
	}{
		{"outer turned", orb.MultiPolygon{{clockwise}}, orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0}}}}},
		{"hole turned", orb.MultiPolygon{{{{0, 0}, {9, 0}, {9, 9}, {0, 9}, {0, 0}}, {{1, 1}, {2, 1}, {2, 2}, {1, 1}}}},
			orb.MultiPolygon{{{{0, 0}, {9, 0}, {9, 9}, {0, 9}, {0, 0}}, {{1, 1}, {2, 2}, {2, 1}, {1, 1}}}}},
		{"repeated after rounding", orb.MultiPolygon{{{{0, 0}, {1, 0}, {1.00000001, 0}, {1, 1}, {0, 0}}}}, orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}}},
		{"not closed", orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}}}}, orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}}},
		{"no area", orb.MultiPolygon{{{{0, 0}, {1, 0}, {2, 0}, {0, 0}}}}, nil},
		{"vanishes with its hole", orb.MultiPolygon{{{{0, 0}, {1e-9, 0}, {0, 1e-9}, {0, 0}}, clockwise}}, nil},
		{"not a number", orb.MultiPolygon{{{{0, 0}, {math.NaN(), 0}, {1, 1}, {0, 0}}}}, nil},
		{"empty", orb.MultiPolygon{{}, {{}}}, nil},
		{"minus zero", orb.MultiPolygon{{{{-1e-9, 0}, {1, 0}, {1, 1}, {-1e-9, 0}}}}, orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}}},
	} {
		got := Tidy(c.in)
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: Tidy = %v, want %v", c.name, got, c.want)
		}
		if math.Signbit(first0(got)) {
			t.Errorf("%s: minus zero is left", c.name)
		}
	}
}

// first0 is the first coordinate of the first ring, or zero for no shape.
func first0(m orb.MultiPolygon) float64 {
	if len(m) == 0 {
		return 0
	}
	return m[0][0][0][0]
}

// orb is the second opinion on orientation and area; the bound on area is half a step along the ring's length.
func TestTidyKeepsShapeAndIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "corners")
		lon, lat := rapid.Float64Range(-170, 170).Draw(t, "lon"), rapid.Float64Range(-80, 80).Draw(t, "lat")
		turn := rapid.SampledFrom([]float64{1, -1}).Draw(t, "turn")
		var ring orb.Ring
		for i := range n {
			r := rapid.Float64Range(0.001, 0.01).Draw(t, "radius")
			a := turn * 2 * math.Pi * float64(i) / float64(n)
			ring = append(ring, orb.Point{lon + r*math.Cos(a), lat + r*math.Sin(a)})
		}
		ring = append(ring, ring[0])
		in := orb.MultiPolygon{{ring.Clone()}}
		out := Tidy(in)
		if len(out) != 1 || out[0][0].Orientation() != orb.CCW || !out[0][0].Closed() {
			t.Fatalf("Tidy(%v) = %v, want one closed counter-clockwise ring", in, out)
		}
		if a, b := math.Abs(planar.Area(ring)), planar.Area(out[0][0]); math.Abs(a-b) > planar.Length(ring)*1e-7 {
			t.Fatalf("area %g became %g", a, b)
		}
		if again := Tidy(out.Clone()); !reflect.DeepEqual(again, out) {
			t.Fatalf("tidied twice: %v, once: %v", again, out)
		}
		if !reflect.DeepEqual(in[0][0], ring) {
			t.Fatal("Tidy changed what it was given")
		}
	})
}
