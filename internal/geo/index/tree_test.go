package index

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/internal/geo"
)

// TestSearch compares the tree with looking at every box.
func TestSearch(t *testing.T) {
	box := rapid.Custom(func(t *rapid.T) geo.Box {
		c := rapid.OneOf(rapid.Int64Range(-20, 20), rapid.Int64Range(-1<<50, 1<<50))
		x0, x1, y0, y1 := c.Draw(t, "x"), c.Draw(t, "x"), c.Draw(t, "y"), c.Draw(t, "y")
		return geo.Box{X0: min(x0, x1), X1: max(x0, x1), Y0: min(y0, y1), Y1: max(y0, y1)}
	})
	rapid.Check(t, func(t *rapid.T) {
		boxes := rapid.SliceOfN(rapid.OneOf(box, rapid.Just(geo.NoBox())), 0, 600).Draw(t, "boxes")
		tree := Build(boxes)
		for _, q := range rapid.SliceOfN(box, 1, 5).Draw(t, "queries") {
			var want []uint32
			for i, b := range boxes {
				if b.X0 <= q.X1 && q.X0 <= b.X1 && b.Y0 <= q.Y1 && q.Y0 <= b.Y1 {
					want = append(want, uint32(i))
				}
			}
			got := tree.Search(q, nil)
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Fatalf("%v finds %v, want %v", q, got, want)
			}
		}
	})
}

// TestHilbert checks that the curve visits every cell of its first 16×16 once, each beside the last.
func TestHilbert(t *testing.T) {
	const n = 16
	at := make([][2]int, n*n)
	for x := range n {
		for y := range n {
			d := Hilbert(uint32(x), uint32(y))
			if d >= n*n {
				t.Fatalf("cell %d,%d is at %d", x, y, d)
			}
			at[d] = [2]int{x, y}
		}
	}
	for d := 1; d < n*n; d++ {
		if dx, dy := at[d][0]-at[d-1][0], at[d][1]-at[d-1][1]; dx*dx+dy*dy != 1 {
			t.Errorf("from %v to %v is no step", at[d-1], at[d])
		}
	}
}
