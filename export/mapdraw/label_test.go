package mapdraw

import (
	"math/rand/v2"
	"testing"
)

// The place of a label is inside the part and off its holes, even where the centroid is not.
func TestLabelsStandInsideAndOffHoles(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	// The centroid of the ring lies in its hole, that of the C outside it, and in the strip the largest circle has a radius of half a unit.
	shapes := map[string]part{
		"ring": {rectangle(0, 0, 100, 100), {{10, 10}, {10, 90}, {90, 90}, {90, 10}}},
		"C":    {{{0, 0}, {100, 0}, {100, 10}, {10, 10}, {10, 90}, {100, 90}, {100, 100}, {0, 100}}},
		"thin": {{{0, 0}, {100, 0}, {100, 1}, {0, 1}}},
	}
	for n := range 40 {
		shapes[string(rune('a'+n))] = holed(r)
	}
	for name, p := range shapes {
		for _, stretch := range []float64{1, 2.5} {
			at, radius := roomiest(p, stretch)
			if c := clearance(p, at); c <= 0 || radius <= 0 {
				t.Errorf("%s: label at %v is %.2f inside", name, at, c)
			}
		}
	}
}

// The grid finds the circle: in a rectangle its radius is half the shorter side, in a triangle 2 area / perimeter.
// Source: plane geometry.
func TestRoomiestIsTheLargestCircle(t *testing.T) {
	for _, c := range []struct {
		name string
		p    part
		want float64
	}{
		{"square", part{rectangle(3, 4, 80, 80)}, 40},
		{"rectangle", part{rectangle(0, 0, 200, 30)}, 15},
		{"triangle 3-4-5", part{{{0, 0}, {300, 0}, {0, 400}}}, 100},
	} {
		if _, got := roomiest(c.p, 1); got < 0.98*c.want || got > c.want+1e-9 {
			t.Errorf("%s: radius %.2f, want %.2f", c.name, got, c.want)
		}
	}
}

// A box with room to spare beside the hole and one a unit too wide for it, one in the hole and one around it, one beyond the part, and a
// long one that passes the hole.
func TestBoxFitsOnlyWhereNoLineEntersIt(t *testing.T) {
	p := part{rectangle(0, 0, 100, 50), {{40, 20}, {40, 30}, {60, 30}, {60, 20}}}
	for _, c := range []struct {
		at   Point
		w, h float64
		want bool
	}{{Point{20, 25}, 30, 20, true}, {Point{20, 25}, 41, 20, false}, {Point{50, 25}, 10, 5, false}, {Point{50, 25}, 30, 20, false}, {Point{150, 25}, 10, 10, false}, {Point{50, 10}, 90, 15, true}} {
		if got := boxFits(p, c.at, c.w, c.h); got != c.want {
			t.Errorf("box %v × %v at %v: %v, want %v", c.w, c.h, c.at, got, c.want)
		}
	}
}

// Callouts keep their distance, their order and the frame.
func TestCalloutsDoNotOverlap(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	for range 50 {
		n := 1 + r.IntN(20)
		labels := make([]label, n)
		for i := range labels {
			labels[i].at = Point{0, 300 * r.Float64()}
			if i > 0 && labels[i].at.Y < labels[i-1].at.Y {
				labels[i].at.Y = labels[i-1].at.Y
			}
		}
		ys := spread(labels, 10, 310, 15)
		for i, y := range ys {
			if y < 10-1e-9 && n*15 <= 300 || y > 310 || i > 0 && y-ys[i-1] < 15-1e-9 {
				t.Fatalf("%d labels stand at %v", n, ys)
			}
		}
	}
}
