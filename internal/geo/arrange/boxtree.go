package arrange

import (
	"math"
	"slices"

	"rootworthy/internal/geo"
)

// box is a closed rectangle.
type box struct{ x0, y0, x1, y1 int64 }

// boxOf returns the box of two points.
func boxOf(a, b geo.Pt) box {
	return box{min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X), max(a.Y, b.Y)}
}

// meets says whether two boxes have a point in common.
func (b box) meets(c box) bool { return b.x0 <= c.x1 && c.x0 <= b.x1 && b.y0 <= c.y1 && c.y0 <= b.y1 }

// join returns the box around two.
func (b box) join(c box) box {
	return box{min(b.x0, c.x0), min(b.y0, c.y0), max(b.x1, c.x1), max(b.y1, c.y1)}
}

// fanout is the number of children of a node of a boxTree.
const fanout = 16

// boxTree finds the boxes that meet a given one. It is packed by sorted tiles: boxes in order of X are cut into
// upright strips, each sorted by Y, and every 16 in a row share a node.
type boxTree struct {
	items  []int32 // numbers of the boxes, in tree order
	levels [][]box // levels[0]: the boxes of items; each further level: boxes around 16 of the one before
}

// newBoxTree builds a tree over boxes.
func newBoxTree(boxes []box) *boxTree {
	n := len(boxes)
	t := &boxTree{items: make([]int32, n)}
	for i := range t.items {
		t.items[i] = int32(i)
	}
	// Midpoints are compared by their sums; those fit, as coordinates stay within 62 bits.
	slices.SortFunc(t.items, func(i, j int32) int { return less(boxes[i].x0+boxes[i].x1, boxes[j].x0+boxes[j].x1, i, j) })
	strip := fanout * max(1, int(math.Ceil(math.Sqrt(float64(n)/fanout))))
	for s := range slices.Chunk(t.items, strip) {
		slices.SortFunc(s, func(i, j int32) int { return less(boxes[i].y0+boxes[i].y1, boxes[j].y0+boxes[j].y1, i, j) })
	}
	level := make([]box, n)
	for k, i := range t.items {
		level[k] = boxes[i]
	}
	t.levels = append(t.levels, level)
	for len(level) > 1 {
		var upper []box
		for c := range slices.Chunk(level, fanout) {
			b := c[0]
			for _, d := range c[1:] {
				b = b.join(d)
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

// find calls f with the number of every box that meets q, until f returns false.
func (t *boxTree) find(q box, f func(int32) bool) {
	if len(t.items) > 0 {
		t.descend(len(t.levels)-1, 0, q, f)
	}
}

// descend searches node k of a level.
func (t *boxTree) descend(level, k int, q box, f func(int32) bool) bool {
	if !t.levels[level][k].meets(q) {
		return true
	}
	if level == 0 {
		return f(t.items[k])
	}
	for c := k * fanout; c < min((k+1)*fanout, len(t.levels[level-1])); c++ {
		if !t.descend(level-1, c, q, f) {
			return false
		}
	}
	return true
}
