package mapdraw

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// Neighbours stay neighbours when lines are thinned: a wavy edge between two halves stays one line, and the halves still
// make up the whole.
func TestThinningKeepsSharedLines(t *testing.T) {
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
