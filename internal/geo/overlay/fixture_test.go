package overlay

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
)

// shape reads rings as text: points "x,y" between blanks, rings between "/" (the first is the outer one), parts
// between ";". "box a b c d" is a rectangle from a,b to c,d.
func shape(t testing.TB, text string, scale float64) (m orb.MultiPolygon) {
	t.Helper()
	for part := range strings.SplitSeq(text, ";") {
		var p orb.Polygon
		for ring := range strings.SplitSeq(part, "/") {
			var a, b, c, d float64
			if n, _ := fmt.Sscanf(strings.TrimSpace(ring), "box %g %g %g %g", &a, &b, &c, &d); n == 4 {
				ring = fmt.Sprintf("%g,%g %g,%g %g,%g %g,%g", a, b, c, b, c, d, a, d)
			}
			var r orb.Ring
			for point := range strings.FieldsSeq(ring) {
				var x, y float64
				if _, err := fmt.Sscanf(point, "%g,%g", &x, &y); err != nil {
					t.Fatalf("%q: %v", point, err)
				}
				r = append(r, orb.Point{x * scale, y * scale})
			}
			if len(r) > 0 {
				p = append(p, append(r, r[0]))
			}
		}
		m = append(m, p)
	}
	return m
}

// TestDegenerate goes through the ways in which boundaries coincide. Expected areas are counted by hand, in squares
// of the drawing; each case is run in drawings of 1 m, 1 grid unit, and 150 km a square (128 bits), and with field
// and survey swapped.
func TestDegenerate(t *testing.T) {
	for _, tc := range []struct {
		name, field, soil string
		area              float64
		parts             int
	}{
		{"identical", "box 0 0 4 4", "box 0 0 4 4", 16, 1},
		{"identical, begun elsewhere and the other way round", "box 0 0 4 4", "4,4 4,0 0,0 0,4", 16, 1},
		{"shared edge only", "box 0 0 4 4", "box 4 0 8 4", 0, 0},
		{"shared vertex only", "box 0 0 4 4", "box 4 4 8 8", 0, 0},
		{"edge partly along edge, same direction", "box 0 0 4 4", "box 0 1 2 3", 4, 1},
		{"edge partly along edge, opposite direction", "box 0 0 4 4", "box 4 1 6 3", 0, 0},
		{"vertex on edge, from inside", "box 0 0 4 4", "1,1 3,1 2,4", 3, 1},
		{"vertex on edge, from outside", "box 0 0 4 4", "1,6 2,4 3,6", 0, 0},
		{"field edge through a vertex, out on the other side", "box 0 0 4 4", "2,4 6,2 6,6 2,6", 1, 1},
		{"diagonal through two vertices", "0,0 4,0 4,4", "box 0 0 4 4", 8, 1},
		{"diagonal through two vertices, other half", "0,0 4,4 0,4", "box 0 0 4 4", 8, 1},
		{"field edge through a vertex, out on the same side", "box 0 0 4 2", "1,4 2,2 3,4", 0, 0},
		{"field corner on a node", "box 2 2 4 4", "box 0 0 2 2", 0, 0},
		{"field corner on a node, quarter", "box 1 1 4 4", "box 0 0 2 2", 1, 1},
		{"hole equal to field", "box 2 2 4 4", "box 0 0 6 6 / box 2 2 4 4", 0, 0},
		{"field in hole", "box 2 2 3 3", "box 0 0 6 6 / box 1 1 4 4", 0, 0},
		{"field round a hole", "box 1 1 5 5", "box 0 0 6 6 / box 2 2 4 4", 12, 1},
		{"hole touching the shell in a vertex", "box 0 0 6 6", "box 0 0 6 6 / 0,0 2,1 1,2", 34.5, 1},
		{"two holes touching", "box 0 0 6 6", "box 0 0 6 6 / box 1 1 2 2 / box 2 2 3 3", 34, 1},
		{"holes that cut off ground", "box 0 0 6 6", "box 0 0 6 6 / 0,2 2,4 4,2 2,3 / 4,2 6,4 5,1", 32, 2},
		{"ground pinched to a vertex", "box 0 0 4 4", "0,0 2,0 2,2 0,2; 2,2 4,2 4,4 2,4", 8, 2},
		{"island in hole in field", "box 0 0 8 8 / box 2 2 6 6 ; box 3 3 5 5", "box 1 1 7 7", 24, 2},
		{"field hole crosses soil hole", "box 0 0 6 6 / box 1 1 3 3", "box 0 0 6 6 / box 2 2 4 4", 29, 1},
		{"field hole equal to soil hole", "box 0 0 6 6 / box 1 1 3 3", "box 0 0 6 6 / box 1 1 3 3", 32, 1},
		{"collinear points on edges", "0,0 1,0 2,0 4,0 4,4 0,4", "0,0 3,0 4,0 4,2 4,4 0,4 0,1", 16, 1},
		{"equal heights", "box 0 0 4 2", "box 2 0 6 2", 4, 1},
		{"spike in the field", "0,0 4,0 4,4 2,4 2,7 2,4 0,4", "box 0 0 8 8", 16, 1},
		{"spike in the soil, into the field", "box 0 0 8 8", "0,0 4,0 4,4 2,4 2,7 2,4 0,4", 16, 1},
		{"bow-tie in the soil", "box 0 0 8 8", "0,0 4,4 4,0 0,4", 8, 2},
		{"bow-tie in the field", "0,0 4,4 4,0 0,4", "box 0 0 8 8", 8, 2},
		{"half a bow-tie", "box 2 0 8 8", "0,0 4,4 4,0 0,4", 4, 1},
		{"the other half", "box -4 0 2 8", "0,0 4,4 4,0 0,4", 4, 1},
		{"figure of eight", "box 3 -1 9 9", "0,0 4,0 2,2 6,6 0,6 4,2", 4.5 + 0.5 + 0.75, 3},
		{"hole given outside the shell", "box 0 0 9 9", "box 0 0 2 2 / box 4 4 6 6", 8, 2},
		{"nested holes", "box 0 0 9 9", "box 0 0 8 8 / box 1 1 7 7 / box 2 2 3 3", 29, 2},
		{"overlapping parts", "box 0 0 9 9", "box 0 0 4 4 ; box 2 2 6 6", 24, 2},
		{"duplicate part", "box 0 0 9 9", "box 0 0 4 4 ; box 0 0 4 4", 0, 0},
		{"hole crosses the shell", "box 0 0 9 9", "box 1 1 5 5 / box 3 3 7 7", 24, 2},
		{"multipolygon field", "box 0 0 2 2 ; box 4 0 6 2", "box 1 0 5 1", 2, 2},
		{"repeated points", "0,0 0,0 4,0 4,0 4,0 4,4 0,4 0,0", "box 0 0 4 4", 16, 1},
		{"nothing", "", "box 0 0 4 4", 0, 0},
		{"a line", "0,0 4,0 8,0", "box 0 0 4 4", 0, 0},
	} {
		for _, scale := range []float64{1, geo.PlaneStep * 2, 150e3} {
			for _, swap := range []bool{false, true} {
				field, soil := shape(t, tc.field, scale), shape(t, tc.soil, scale)
				if swap {
					field, soil = soil, field
				}
				c := coverageOf(t, []orb.MultiPolygon{soil}, []uint32{7})
				cut := runAll(t, c, []orb.MultiPolygon{field}, Options{listAll: true, Gaps: true, Boundary: true})[0]
				checkCut(t, cut)
				got, parts := 0.0, 0
				for _, p := range cut.Pieces {
					got += p.Area / scale / scale
					parts += len(p.Shape)
				}
				// Where lines cross between grid points the drawing in grid units is coarse.
				if slack := max(1e-9, 8*geo.PlaneStep/scale); math.Abs(got-tc.area) > slack {
					t.Errorf("%s (scale %g, swapped %v): area %v, want %v", tc.name, scale, swap, got, tc.area)
				} else if parts != tc.parts && scale >= 1 {
					t.Errorf("%s (scale %g, swapped %v): %d parts, want %d", tc.name, scale, swap, parts, tc.parts)
				}
			}
		}
	}
}

// TestSlivers leaves gaps and overlaps of 1 to 10 grid units between neighbours: they must show up in the sums
// exactly, and not in the list of pieces.
func TestSlivers(t *testing.T) {
	for width := int64(-10); width <= 10; width++ {
		w := toMetres(width)
		left := orb.MultiPolygon{{{{0, 0}, {50, 0}, {50, 100}, {0, 100}, {0, 0}}}}
		right := orb.MultiPolygon{{{{50 + w, 0}, {100, 0}, {100, 100}, {50 + w, 100}, {50 + w, 0}}}}
		c := coverageOf(t, []orb.MultiPolygon{left, right}, []uint32{1, 2})
		field := shape(t, "box 10 10 90 90", 1)
		cut := runAll(t, c, []orb.MultiPolygon{field}, Options{Gaps: true})[0]
		checkCut(t, cut)
		gap, overlap := max(0, w)*80, max(0, -w)*80
		if math.Abs(cut.Uncovered-gap) > 1e-9 || math.Abs(cut.Doubled-overlap) > 1e-9 || len(cut.Pieces) != 2 {
			t.Errorf("%d units: uncovered %v, want %v; doubled %v, want %v; %d pieces", width, cut.Uncovered, gap, cut.Doubled, overlap, len(cut.Pieces))
		}
	}
}

// TestManyVertices cuts a polygon of 40,000 vertices and 100 holes with itself moved by a step.
func TestManyVertices(t *testing.T) {
	wave := func(cx, cy, r float64, n int, reverse bool) (ring orb.Ring) {
		for i := range n {
			turn := float64(i) / float64(n)
			if reverse {
				turn = -turn
			}
			x, y := unitCircle(turn)
			k := r * (1 + 0.05*math.Sin(40*2*math.Pi*turn))
			ring = append(ring, orb.Point{cx + k*x, cy + k*y})
		}
		return append(ring, ring[0])
	}
	big := func(dx float64) orb.MultiPolygon {
		p := orb.Polygon{wave(dx, 0, 10000, 30000, false)}
		for i := range 100 {
			p = append(p, wave(dx+float64(i%10)*1000-4500, float64(i/10)*1000-4500, 300, 100, true))
		}
		return orb.MultiPolygon{p}
	}
	c := coverageOf(t, []orb.MultiPolygon{big(0)}, []uint32{1})
	cuts := runAll(t, c, []orb.MultiPolygon{big(0), big(450)}, Options{Gaps: true})
	for _, cut := range cuts {
		checkCut(t, cut)
	}
	if p := cuts[0].Pieces; len(p) != 1 || p[0].Area != cuts[0].Area {
		t.Errorf("with itself: %d pieces", len(p))
	}
	if p := cuts[1].Pieces; len(p) != 1 || len(p[0].Shape) < 1 || p[0].Area >= cuts[1].Area {
		t.Errorf("moved: %d pieces", len(p))
	}
}
