package mapdraw

import (
	"math"
	"math/rand/v2"
	"testing"
)

// star is a ring around a place with a random radius for each of n angles; it does not cross itself.
func star(r *rand.Rand, at Point, low, high float64, n int, turn float64) []Point {
	out := make([]Point, n)
	for i := range out {
		t := turn * 2 * math.Pi * float64(i) / float64(n)
		d := low + (high-low)*r.Float64()
		out[i] = Point{at.X + d*math.Cos(t), at.Y + d*math.Sin(t)}
	}
	return out
}

// holed is a random ring with a hole in it.
func holed(r *rand.Rand) [][]Point {
	at := Point{100 + 50*r.Float64(), 100 + 50*r.Float64()}
	return [][]Point{star(r, at, 60, 95, 5+r.IntN(20), 1), star(r, at, 15, 50, 4+r.IntN(10), -1)}
}

// Nothing of any pattern lies outside the shape or in its hole.
func TestPatternsStayInside(t *testing.T) {
	const seed = 7
	r := rand.New(rand.NewPCG(seed, 1))
	for n := range 20 {
		rings := holed(r)
		for _, s := range []Style{Screen(), Paper()} {
			for _, p := range Patterns() {
				dots, lines := p.cut(rings, s)
				for _, d := range dots {
					if c := clearance(rings, d); c < s.DotRadius {
						t.Fatalf("seed %d, case %d: dot at %v is %.3f inside, radius %.3f", seed, n, d, c, s.DotRadius)
					}
				}
				for _, l := range lines {
					for k := range 11 {
						f := float64(k) / 10
						at := Point{l[0].X + f*(l[1].X-l[0].X), l[0].Y + f*(l[1].Y-l[0].Y)}
						if c := clearance(rings, at); c < -1e-6 {
							t.Fatalf("seed %d, case %d, pattern %d: line leaves the shape by %.4f at %v", seed, n, p, -c, at)
						}
					}
				}
			}
		}
	}
}

// A pattern covers its shape evenly: lines at a pitch have a length of area / pitch.
func TestPatternsCoverTheShape(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	for n := range 20 {
		rings := holed(r)
		area := part(rings).area()
		_, lines := Lined.cut(rings, Paper())
		sum := 0.0
		for _, l := range lines {
			sum += math.Hypot(l[1].X-l[0].X, l[1].Y-l[0].Y)
		}
		if got := sum * Paper().LinePitch; math.Abs(got-area) > 0.1*area {
			t.Errorf("case %d: lines stand for %.0f units², the shape has %.0f", n, got, area)
		}
		dots, _ := Dotted.cut(rings, Paper())
		if got := float64(len(dots)) * Paper().DotPitch * Paper().DotPitch; got > area || got < 0.75*area {
			t.Errorf("case %d: dots stand for %.0f units², the shape has %.0f", n, got, area)
		}
	}
}
