package arrange

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/internal/geo"
)

// TestSetOperationFixtures goes through the ways in which two polygons can lie to each other.
func TestSetOperationFixtures(t *testing.T) {
	const square = "0,0 4,0 4,4 0,4"
	const ring = "0,0 9,0 9,9 0,9; 3,3 3,6 6,6 6,3"
	for _, tc := range []struct{ name, a, b, union, difference, intersection string }{
		{"both empty", "", "", "", "", ""},
		{"one empty", square, "", square, square, ""},
		{"identical", square, square, square, "", square},
		{"apart", square, "8,8 9,8 9,9 8,9", square + " | 8,8 9,8 9,9 8,9", square, ""},
		{"shared edge", square, "4,0 8,0 8,4 4,4", "0,0 4,0 8,0 8,4 4,4 0,4", square, ""},
		{"shared vertex", square, "4,4 8,4 8,8 4,8", square + " | 4,4 8,4 8,8 4,8", square, ""},
		{"edge partly along edge, opposite direction", square, "4,1 8,1 8,6 4,6", "0,0 4,0 4,1 8,1 8,6 4,6 4,4 0,4",
			"0,0 4,0 4,1 4,4 0,4", ""},
		{"edge partly along edge, same direction", square, "2,1 4,1 4,6 2,6", "0,0 4,0 4,1 4,4 4,6 2,6 2,4 0,4",
			"0,0 4,0 4,1 2,1 2,4 0,4", "2,1 4,1 4,4 2,4"},
		{"vertex on edge", square, "4,2 8,0 8,4", "0,0 4,0 4,2 4,4 0,4 | 4,2 8,0 8,4", "0,0 4,0 4,2 4,4 0,4", ""},
		{"edge through a vertex, leaving on the other side", square, "2,6 6,2 6,6", "0,0 4,0 4,4 0,4 | 2,6 4,4 6,2 6,6", square, ""},
		{"hole equal to field", ring, "3,3 6,3 6,6 3,6", "0,0 9,0 9,9 0,9", ring, ""},
		{"field in hole", ring, "4,4 5,4 5,5 4,5", ring + " | 4,4 5,4 5,5 4,5", ring, ""},
		{"hole crossing hole", "0,0 9,0 9,9 0,9; 2,2 2,6 6,6 6,2", "0,0 9,0 9,9 0,9; 4,4 4,8 8,8 8,4", "0,0 9,0 9,9 0,9; 4,4 4,6 6,6 6,4",
			"4,6 6,6 6,4 8,4 8,8 4,8", "0,0 9,0 9,9 0,9; 2,2 2,6 4,6 4,8 8,8 8,4 6,4 6,2"},
		{"hole equal to hole", ring, ring, ring, "", ring},
		{"island in hole", ring + " | 4,4 5,4 5,5 4,5", "2,2 7,2 7,7 2,7", "0,0 9,0 9,9 0,9",
			"0,0 9,0 9,9 0,9; 2,2 2,7 7,7 7,2", "2,2 7,2 7,7 2,7; 3,3 3,6 6,6 6,3 | 4,4 5,4 5,5 4,5"},
		{"edges longer than 107 km", "0,0 3000000000,0 3000000000,1 0,1", "1000000000,-1 2000000000,-1 2000000000,2 1000000000,2",
			"0,0 1000000000,0 1000000000,-1 2000000000,-1 2000000000,0 3000000000,0 3000000000,1 2000000000,1 2000000000,2 1000000000,2 1000000000,1 0,1",
			"0,0 1000000000,0 1000000000,1 0,1 | 2000000000,0 3000000000,0 3000000000,1 2000000000,1",
			"1000000000,0 2000000000,0 2000000000,1 1000000000,1"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			a, b := shapes(t, tc.a), shapes(t, tc.b)
			for _, op := range []struct {
				name string
				got  []Polygon
				want string
			}{
				{"Union", Union(a, b), tc.union},
				{"Union turned", Union(b, a), tc.union},
				{"Difference", Difference(a, b), tc.difference},
				{"Intersection", Intersection(a, b), tc.intersection},
				{"Intersection turned", Intersection(b, a), tc.intersection},
			} {
				if s := show(op.got); s != op.want {
					t.Errorf("%s\n got %s\nwant %s", op.name, s, op.want)
				}
				if f := slowFault(op.got); f != "" {
					t.Errorf("%s = %s: %s", op.name, show(op.got), f)
				}
			}
		})
	}
}

// TestFourAtOneNode dissolves four squares round a node, and three of them.
func TestFourAtOneNode(t *testing.T) {
	four := shapes(t, "0,0 2,0 2,2 0,2 | 2,0 4,0 4,2 2,2 | 0,2 2,2 2,4 0,4 | 2,2 4,2 4,4 2,4")
	if got, want := show(Dissolve(four)), "0,0 2,0 4,0 4,2 4,4 2,4 0,4 0,2"; got != want {
		t.Errorf("four: %s, want %s", got, want)
	}
	if got, want := show(Dissolve(four[:3])), "0,0 2,0 4,0 4,2 2,2 2,4 0,4 0,2"; got != want {
		t.Errorf("three: %s, want %s", got, want)
	}
	if got, want := show(Dissolve([]Polygon{four[0], four[3]})), "0,0 2,0 2,2 0,2 | 2,2 4,2 4,4 2,4"; got != want {
		t.Errorf("two across: %s, want %s", got, want)
	}
}

// TestSetOperationsAnyLines checks that areas add up where crossings are rounded: after joint noding exactly, as every
// face is in one of a−b, b−a, a∩b.
func TestSetOperationsAnyLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.SampledFrom([]int64{3, 10, 1000}).Draw(t, "side")
		a, b := EvenOdd(lattice(t, side, "a")), EvenOdd(lattice(t, side, "b"))
		u, i, d, e := Union(a, b), Intersection(a, b), Difference(a, b), Difference(b, a)
		for _, p := range [][]Polygon{u, i, d, e} {
			if f := slowFault(p); f != "" {
				t.Fatalf("of %s and %s: %s: %s", show(a), show(b), show(p), f)
			}
		}
		if sum := Area(i) + Area(d) + Area(e); sum != Area(u) { // halves of whole numbers below 2^40
			t.Fatalf("of %s and %s: union %v, pieces %v", show(a), show(b), Area(u), sum)
		}
		if again := Dissolve(slices.Concat(i, d, e)); Area(again) != Area(u) {
			t.Fatalf("pieces of %s and %s dissolve to %s, union %s", show(a), show(b), show(again), show(u))
		}
	})
}

// TestCombAndStar fills the status of the sweep with thousands of edges, and a point with thousands of lines.
func TestCombAndStar(t *testing.T) {
	var comb []geo.Pt
	const teeth = 3000
	for i := range int64(teeth) {
		comb = append(comb, geo.Pt{X: 0, Y: 4 * i}, geo.Pt{X: 10_000, Y: 4*i + 1}, geo.Pt{X: 0, Y: 4*i + 2})
	}
	comb = append(comb, geo.Pt{X: -10, Y: 4 * teeth}, geo.Pt{X: -10, Y: -10})
	sound := append(slices.Clone(comb), geo.Pt{X: -9, Y: -10})
	if f := Check(Polygon{sound}); !f.OK() {
		t.Fatalf("comb: %v at %v", f.Kind, f.At)
	}
	if got := Union([]Polygon{{sound}}); len(got) != 1 || Area(got) != ringArea(sound) {
		t.Errorf("comb of %d teeth: %d parts, area %v, want %v", teeth, len(got), Area(got), ringArea(sound))
	}
	crossed := append(slices.Clone(comb), geo.Pt{X: 20_000, Y: 2 * teeth}, geo.Pt{X: 20_000, Y: 2*teeth + 1}, geo.Pt{X: -10, Y: -10})
	got := EvenOdd([][]geo.Pt{crossed})
	if f := CheckAll(got); !f.OK() || len(got) < 100 {
		t.Errorf("crossed comb: %d parts: %v at %v", len(got), f.Kind, f.At)
	}
	var star []geo.Pt
	for i := range int64(2000) {
		star = append(star, geo.Pt{}, geo.Pt{X: 10_000, Y: 4*i - 4000}, geo.Pt{X: 10_000, Y: 4*i - 3999})
	}
	if got := EvenOdd([][]geo.Pt{star}); len(got) != 2000 || Area(got) != ringArea(star) {
		t.Errorf("star: %d parts, area %v, want 2000 and %v", len(got), Area(got), ringArea(star))
	}
}
