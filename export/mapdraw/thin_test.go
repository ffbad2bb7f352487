package mapdraw

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/suitability"
)

// Neighbours stay neighbours when lines are thinned: a wavy edge between two halves stays one line, and the halves still
// make up the whole.
func TestThinningKeepsSharedLines(t *testing.T) {
	// The middle line has a corner every quarter unit, most of which lie within 0.3 units of a straight line between others.
	wave := orb.Ring{}
	for i := range 400 {
		y := float64(i) / 4
		wave = append(wave, orb.Point{50 + 3*math.Sin(y/3), y})
	}
	wave = append(wave, orb.Point{50 + 3*math.Sin(100.0/3), 100})
	left, right := orb.Ring{{0, 0}}, orb.Ring{}
	left = append(left, wave...)
	left = append(left, orb.Point{0, 100}, orb.Point{0, 0})
	right = append(right, orb.Point{100, 100}, orb.Point{100, 0})
	right = append(orb.Ring{}, right...)
	for i := range wave {
		right = append(right, wave[i])
	}
	right = append(right, right[0])
	right.Reverse()
	whole := orb.Ring{{0, 0}, wave[0], {100, 0}, {100, 100}, wave[len(wave)-1], {0, 100}, {0, 0}}
	if right.Orientation() != orb.CCW {
		right.Reverse()
	}
	thin := thinned([]orb.MultiPolygon{{{left}}, {{right}}, {{whole}}}, 0.3)
	sum := thin[0][0].area() + thin[1][0].area()
	if all := thin[2][0].area(); math.Abs(sum-all) > 1e-6*all {
		t.Errorf("halves %.4f, whole %.4f", sum, all)
	}
	if n := len(thin[0][0][0]); n > 150 || n < 20 {
		t.Errorf("%d of %d corners are left", n, len(left))
	}
	shared := map[Point]bool{}
	for _, p := range thin[0][0][0] {
		shared[p] = true
	}
	n := 0
	for _, p := range thin[1][0][0] {
		if shared[p] {
			n++
		}
	}
	if n < len(thin[1][0][0])-2 {
		t.Errorf("only %d of %d corners are shared", n, len(thin[1][0][0]))
	}
}

// Thinned one by one, no corner that is dropped lay farther off the line than allowed, and no field is lost.
func TestThinnedAloneKeepsEveryField(t *testing.T) {
	const tolerance = 0.4
	shapes := wobbly(400)
	shapes = append(shapes, orb.MultiPolygon{{{{0, 0}, {0.1, 0}, {0.1, 0.1}, {0, 0}}}}) // smaller than the tolerance
	before := make([]orb.MultiPolygon, len(shapes))
	corners, left := 0, 0
	for i, s := range shapes {
		before[i] = s.Clone()
	}
	for i, parts := range thinnedAlone(shapes, tolerance) {
		if len(parts) != 1 || len(parts[0]) != 1 || len(parts[0][0]) < 3 {
			t.Fatalf("shape %d is lost: %v", i, parts)
		}
		for _, q := range before[i][0][0] {
			corners++
			if c := math.Abs(clearance(parts[0], Point{q[0], -q[1]})); c > tolerance+1e-9 {
				t.Fatalf("shape %d: a corner lies %g off its line", i, c)
			}
		}
		left += len(parts[0][0])
	}
	if left > corners/3 {
		t.Errorf("%d of %d corners are left", left, corners)
	}
}

// wobbly makes n fields side by side whose sides wave by less than anybody would see.
func wobbly(n int) []orb.MultiPolygon {
	var out []orb.MultiPolygon
	for i := range n {
		x, y := float64(i%20)*12, float64(i/20)*12
		var ring orb.Ring
		for k := range 80 {
			a := 2 * math.Pi * float64(k) / 80
			r := 5 + 0.1*float64(k%2)
			ring = append(ring, orb.Point{x + r*math.Cos(a), y + r*math.Sin(a)})
		}
		out = append(out, orb.MultiPolygon{{append(ring, ring[0])}})
	}
	return out
}

// BenchmarkOverview draws the fields of a large run.
func BenchmarkOverview(b *testing.B) {
	for _, n := range []int{100, 1000, 4000} {
		r := &suitability.Result{}
		for i, s := range wobbly(n) {
			for k, q := range s[0][0] { // some 200 m across, near an invented place
				s[0][0][k] = orb.Point{-83.5 + q[0]*2e-4, 32.1 + q[1]*2e-4}
			}
			r.Fields = append(r.Fields, suitability.Field{ID: fmt.Sprint(i), Shape: s, Area: 4e4})
		}
		sums := export.Sums(r)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				Overview(r, sums, Options{})
			}
		})
	}
}
