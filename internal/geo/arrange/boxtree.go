package arrange

import (
	"math"
	"slices"

	"rootworthy/internal/geo"
)

// boxOf returns the box of two points.
func boxOf(a, b geo.Pt) geo.Box {
	return geo.Box{X0: min(a.X, b.X), Y0: min(a.Y, b.Y), X1: max(a.X, b.X), Y1: max(a.Y, b.Y)}
}

// fanout is the number of children of a node of a boxTree.
const fanout = 16

// boxTree finds the boxes that meet a given one. It is packed by sorted tiles: boxes in order of X are cut into
// upright strips, each sorted by Y, and every 16 in a row share a node.
type boxTree struct {
	items  []int32     // numbers of the boxes, in tree order
	levels [][]geo.Box // levels[0]: the boxes of items; each further level: boxes around 16 of the one before
}

// newBoxTree builds a tree over boxes.
func newBoxTree(boxes []geo.Box) *boxTree {
	n := len(boxes)
	t := &boxTree{items: make([]int32, n)}
	for i := range t.items {
		t.items[i] = int32(i)
	}
	// Midpoints are compared by their sums; those fit, as coordinates stay within 62 bits.
	slices.SortFunc(t.items, func(i, j int32) int { return less(boxes[i].X0+boxes[i].X1, boxes[j].X0+boxes[j].X1, i, j) })
	strip := fanout * max(1, int(math.Ceil(math.Sqrt(float64(n)/fanout))))
	for s := range slices.Chunk(t.items, strip) {
		slices.SortFunc(s, func(i, j int32) int { return less(boxes[i].Y0+boxes[i].Y1, boxes[j].Y0+boxes[j].Y1, i, j) })
	}
	level := make([]geo.Box, n)
	for k, i := range t.items {
		level[k] = boxes[i]
	}
	t.levels = append(t.levels, level)
	for len(level) > 1 {
		var upper []geo.Box
		for c := range slices.Chunk(level, fanout) {
			b := c[0]
			for _, d := range c[1:] {
				b.Grow(d)
			}
			upper = append(upper, b)
		}
		t.levels = append(t.levels, upper)
		level = upper
	}
	return t
}

// less orders by a key, then by number, so that the tree does not depend on the sort.
func less(a, b int64, i, j int32) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return int(i - j)
}

// find appends the numbers of all boxes that meet q.
func (t *boxTree) find(q geo.Box, found []int32) []int32 {
	if len(t.items) == 0 {
		return found
	}
	return t.descend(len(t.levels)-1, 0, 1, &q, found)
}

// descend searches the nodes from..to-1 of a level.
func (t *boxTree) descend(level, from, to int, q *geo.Box, found []int32) []int32 {
	boxes := t.levels[level]
	for k := from; k < to; k++ {
		switch {
		case !boxes[k].Meets(q):
		case level == 0:
			found = append(found, t.items[k])
		default:
			found = t.descend(level-1, k*fanout, min((k+1)*fanout, len(t.levels[level-1])), q, found)
		}
	}
	return found
}
