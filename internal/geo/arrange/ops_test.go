package arrange

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/internal/geo"
)

func TestEvenOddFixtures(t *testing.T) {
	for _, tc := range []struct{ name, in, want string }{
		{"empty", "", ""},
		{"square", "0,0 4,0 4,4 0,4", "0,0 4,0 4,4 0,4"},
		{"square drawn clockwise", "0,4 4,4 4,0 0,0", "0,0 4,0 4,4 0,4"},
		{"collinear points stay", "0,0 2,0 4,0 4,4 0,4", "0,0 2,0 4,0 4,4 0,4"},
		{"repeated points", "0,0 0,0 4,0 4,0 4,4 0,4 0,4", "0,0 4,0 4,4 0,4"},
		{"one point", "3,3 3,3 3,3", ""},
		{"line to and fro", "0,0 4,4 8,0 4,4", ""},
		{"flat ring", "0,0 4,0 2,0", ""},
		{"spike outwards", "0,0 4,0 4,4 4,9 4,4 0,4", "0,0 4,0 4,4 0,4"},
		{"spike along an edge", "0,0 4,0 4,4 0,4 0,9", "0,0 4,0 4,4 0,4"},
		{"spike inwards", "0,0 4,0 4,4 2,2 4,4 0,4", "0,0 4,0 4,4 0,4"},
		{"bow-tie", "0,0 4,4 4,0 0,4", "0,0 2,2 0,4 | 2,2 4,0 4,4"},
		{"bow-tie crossing off the grid", "0,0 3,3 3,0 0,3", "0,0 2,2 0,3 | 2,2 3,0 3,3"},
		{"figure of eight in a vertex", "0,0 2,2 4,0 4,4 2,2 0,4", "0,0 2,2 0,4 | 2,2 4,0 4,4"},
		{"ring closed round a hole in a vertex", "0,0 8,0 8,8 4,8 6,4 2,4 4,8 0,8", "0,0 8,0 8,8 4,8 0,8; 2,4 4,8 6,4"},
		{"vertex on an edge", "0,0 8,0 8,8 4,0 0,8", "0,0 4,0 0,8 | 4,0 8,0 8,8"},
		{"ring run twice", "0,0 4,0 4,4 0,4 0,0 4,0 4,4 0,4", ""},
		{"ring with a loop inside", "0,0 9,0 9,9 3,3 6,3 0,9", "0,0 9,0 9,9 5,5 0,9; 3,3 5,5 6,3"},
		{"hole", "0,0 9,0 9,9 0,9; 3,3 6,3 6,6 3,6", "0,0 9,0 9,9 0,9; 3,3 3,6 6,6 6,3"},
		{"hole equal to shell", "0,0 9,0 9,9 0,9; 0,0 9,0 9,9 0,9", ""},
		{"hole outside", "0,0 2,0 2,2 0,2; 5,5 6,5 6,6 5,6", "0,0 2,0 2,2 0,2 | 5,5 6,5 6,6 5,6"},
		{"hole across the shell", "0,0 4,0 4,4 0,4; 2,1 6,1 6,3 2,3", "0,0 4,0 4,1 2,1 2,3 4,3 4,4 0,4 | 4,1 6,1 6,3 4,3"},
		{"hole touching the shell from inside", "0,0 4,0 4,4 0,4; 0,2 2,1 2,3", "0,0 4,0 4,4 0,4 0,2; 0,2 2,3 2,1"},
		{"hole cutting the ground in two", "0,0 4,0 4,4 0,4; 2,0 3,2 2,4 1,2", "0,0 2,0 1,2 2,4 0,4 | 2,0 4,0 4,4 2,4 3,2"},
		{"hole along the shell", "0,0 4,0 4,4 0,4; 0,1 2,1 2,3 0,3", "0,0 4,0 4,4 0,4 0,3 2,3 2,1 0,1"},
		{"two holes touching", "0,0 9,0 9,9 0,9; 1,1 3,1 3,3 1,3; 3,3 5,3 5,5 3,5", "0,0 9,0 9,9 0,9; 1,1 1,3 3,3 3,1; 3,3 3,5 5,5 5,3"},
		{"holes sharing an edge", "0,0 9,0 9,9 0,9; 1,1 3,1 3,3 1,3; 3,1 5,1 5,3 3,3", "0,0 9,0 9,9 0,9; 1,1 1,3 3,3 5,3 5,1 3,1"},
		{"overlapping holes", "0,0 9,0 9,9 0,9; 1,1 4,1 4,4 1,4; 3,3 6,3 6,6 3,6",
			"0,0 9,0 9,9 0,9; 1,1 1,4 3,4 3,6 6,6 6,3 4,3 4,1 | 3,3 4,3 4,4 3,4"},
		{"hole in a hole", "0,0 9,0 9,9 0,9; 1,1 8,1 8,8 1,8; 3,3 6,3 6,6 3,6", "0,0 9,0 9,9 0,9; 1,1 1,8 8,8 8,1 | 3,3 6,3 6,6 3,6"},
		{"thinner than a cell", "0,0 1000,1 1000,0 0,1", "0,0 500,1 0,1 | 500,1 1000,0 1000,1"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got := EvenOdd(rings(t, tc.in))
			if s := show(got); s != tc.want {
				t.Errorf("EvenOdd(%s)\n got %s\nwant %s", tc.in, s, tc.want)
			}
			if f := slowFault(got); f != "" {
				t.Errorf("EvenOdd(%s) = %s: %s", tc.in, show(got), f)
			}
		})
	}
}

// lattice draws rings of a few points on a small lattice, so that nearly everything coincides.
func lattice(t *rapid.T, side int64, label string) [][]geo.Pt {
	pt := rapid.Custom(func(t *rapid.T) geo.Pt {
		return geo.Pt{X: rapid.Int64Range(0, side).Draw(t, "x"), Y: rapid.Int64Range(0, side).Draw(t, "y")}
	})
	return rapid.SliceOfN(rapid.SliceOfN(pt, 0, 12), 0, 4).Draw(t, label)
}

// TestEvenOddAnyRings makes anything valid, whatever the start, direction and order of rings, and leaves what is valid
// alone.
func TestEvenOddAnyRings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := lattice(t, rapid.SampledFrom([]int64{2, 4, 8, 30, 1000}).Draw(t, "side"), "rings")
		got := EvenOdd(in)
		if f := slowFault(got); f != "" {
			t.Fatalf("EvenOdd(%v) = %s: %s", in, show(got), f)
		}
		turned := slices.Clone(in)
		slices.Reverse(turned)
		for i, r := range turned {
			if len(r) > 0 {
				r = slices.Concat(r[1:], r[:1])
				slices.Reverse(r)
				turned[i] = r
			}
		}
		if again := EvenOdd(turned); show(again) != show(got) {
			t.Fatalf("EvenOdd(%v) = %s, but turned: %s", in, show(got), show(again))
		}
		var flat [][]geo.Pt
		for _, p := range got {
			flat = append(flat, p...)
		}
		if again := EvenOdd(flat); show(again) != show(got) {
			t.Fatalf("EvenOdd of its own result %s = %s", show(got), show(again))
		}
		if again := Assemble(flat); show(again) != show(got) {
			t.Fatalf("Assemble of the result of EvenOdd %s = %s", show(got), show(again))
		}
	})
}

// TestEvenOddExactArea uses edges along and across the lattice at 45 degrees on even coordinates: all crossings are
// on the grid, so the area must be that of the half cells whose midpoints an odd number of rings surrounds.
func TestEvenOddExactArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := octilinear(t, 6, "rings")
		got := EvenOdd(in)
		want := slowCells(6, func(at geo.Pt) bool { return slowOdd(in, at) })
		if a := Area(got); a != want {
			t.Fatalf("EvenOdd(%v) = %s has area %v, counted %v", in, show(got), a, want)
		}
	})
}

// octilinear draws closed rings whose edges run along X, Y or a diagonal of cells of 2×2 units, within 0..2·cells.
func octilinear(t *rapid.T, cells int64, label string) (out [][]geo.Pt) {
	for range rapid.IntRange(1, 3).Draw(t, label) {
		p := geo.Pt{X: 2 * rapid.Int64Range(0, cells).Draw(t, "x"), Y: 2 * rapid.Int64Range(0, cells).Draw(t, "y")}
		ring := []geo.Pt{p}
		for range rapid.IntRange(2, 10).Draw(t, "steps") {
			dx, dy := rapid.Int64Range(-1, 1).Draw(t, "dx"), rapid.Int64Range(-1, 1).Draw(t, "dy")
			n := 2 * rapid.Int64Range(1, cells).Draw(t, "length")
			q := geo.Pt{X: p.X + n*dx, Y: p.Y + n*dy}
			if q.X < 0 || q.Y < 0 || q.X > 2*cells || q.Y > 2*cells {
				continue
			}
			p = q
			ring = append(ring, p)
		}
		// Home along X, then Y.
		ring = append(ring, geo.Pt{X: ring[0].X, Y: p.Y})
		out = append(out, ring)
	}
	return out
}

// slowCells returns the area of the quarter cells (a 2×2 cell cut by both diagonals) whose midpoints are in, in units². Points are
// given to in multiplied by 6: at a scale where the midpoints of quarter cells are whole.
func slowCells(cells int64, in func(at geo.Pt) bool) (area float64) {
	for x := range cells {
		for y := range cells {
			cx, cy := 6*(2*x+1), 6*(2*y+1)
			for _, d := range []geo.Pt{{X: 4}, {X: -4}, {Y: 4}, {Y: -4}} {
				if in(geo.Pt{X: cx + d.X, Y: cy + d.Y}) {
					area++
				}
			}
		}
	}
	return area
}

// scaled multiplies rings by 6.
func scaled(in [][]geo.Pt) (out [][]geo.Pt) {
	for _, r := range in {
		var s []geo.Pt
		for _, p := range r {
			s = append(s, geo.Pt{X: 6 * p.X, Y: 6 * p.Y})
		}
		out = append(out, s)
	}
	return out
}

// slowOdd says whether an odd number of rings runs round at (multiplied by 6).
func slowOdd(in [][]geo.Pt, at geo.Pt) bool {
	n := 0
	for _, r := range scaled(in) {
		n += slowWinding(r, at)
	}
	return n%2 != 0
}

// TestSetOperationsCount checks every operation against counting quarter cells, and that they are consistent.
func TestSetOperationsCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ra, rb := octilinear(t, 6, "a"), octilinear(t, 6, "b")
		a, b := EvenOdd(ra), EvenOdd(rb)
		for _, tc := range []struct {
			name string
			got  []Polygon
			want func(a, b bool) bool
		}{
			{"Union", Union(a, b), func(a, b bool) bool { return a || b }},
			{"Difference", Difference(a, b), func(a, b bool) bool { return a && !b }},
			{"Intersection", Intersection(a, b), func(a, b bool) bool { return a && b }},
		} {
			want := slowCells(6, func(at geo.Pt) bool { return tc.want(slowOdd(ra, at), slowOdd(rb, at)) })
			if f := slowFault(tc.got); f != "" {
				t.Fatalf("%s(%s, %s) = %s: %s", tc.name, show(a), show(b), show(tc.got), f)
			}
			if got := Area(tc.got); got != want {
				t.Fatalf("%s(%s, %s) = %s has area %v, counted %v", tc.name, show(a), show(b), show(tc.got), got, want)
			}
		}
		pieces := slices.Concat(Difference(a, b), Intersection(a, b), Difference(b, a))
		if got, want := Dissolve(pieces), Union(a, b); Area(got) != Area(want) {
			t.Fatalf("pieces %s dissolve to %s, not %s", show(pieces), show(got), show(want))
		}
	})
}
