package index

import (
	"slices"

	"rootworthy/internal/geo"
)

// fan is how many boxes a node of the tree holds.
const fan = 16

// Tree is a packed R-tree: boxes in the order of a Hilbert curve, sixteen to a node, sixteen nodes to a node above
// them, all in flat slices without pointers. It takes about 38 bytes a box and may be searched by many goroutines.
type Tree struct {
	ids    []uint32    // number of the box in each place of the lowest level
	levels [][]geo.Box // levels[0] is the boxes themselves; a box of levels[k+1] bounds sixteen of levels[k]
}

// Build makes a tree of boxes; box i is found as number i. Boxes that hold nothing are never found.
func Build(boxes []geo.Box) *Tree {
	ids := Order(boxes)
	t := &Tree{ids: ids}
	level := make([]geo.Box, len(ids))
	for i, id := range ids {
		level[i] = boxes[id]
	}
	t.levels = append(t.levels, level)
	for len(level) > fan {
		level = parents(level)
		t.levels = append(t.levels, level)
	}
	return t
}

// Order returns the numbers of all boxes that hold something, in the order of a Hilbert curve through their centres.
func Order(boxes []geo.Box) []uint32 {
	all := geo.NoBox()
	for _, b := range boxes {
		all.Grow(b)
	}
	// The number rides in the low half of the sort key, so that equal places on the curve keep a fixed order.
	keys := make([]uint64, 0, len(boxes))
	for i, b := range boxes {
		if b.X0 <= b.X1 && b.Y0 <= b.Y1 {
			keys = append(keys, uint64(place(&all, &b))<<32|uint64(i))
		}
	}
	slices.Sort(keys)
	ids := make([]uint32, len(keys))
	for i, k := range keys {
		ids[i] = uint32(k)
	}
	return ids
}

func parents(level []geo.Box) []geo.Box {
	up := make([]geo.Box, 0, (len(level)+fan-1)/fan)
	for group := range slices.Chunk(level, fan) {
		b := geo.NoBox()
		for _, child := range group {
			b.Grow(child)
		}
		up = append(up, b)
	}
	return up
}

// place returns where the centre of b lies on a Hilbert curve through all, 16 bits a side.
func place(all, b *geo.Box) uint32 {
	scale := func(lo, hi, v0, v1 int64) uint32 {
		if hi <= lo {
			return 0
		}
		return uint32(65535 * (float64(v0-lo) + float64(v1-lo)) / 2 / float64(hi-lo))
	}
	return Hilbert(scale(all.X0, all.X1, b.X0, b.X1), scale(all.Y0, all.Y1, b.Y0, b.Y1))
}

// Hilbert returns the place of the cell x, y (0…65535 each) on a Hilbert curve: cells close on the curve are close in
// the plane. Each step takes one bit of x and y, gives two bits of the place, and turns the quadrant.
func Hilbert(x, y uint32) (d uint32) {
	for k := 15; k >= 0; k-- {
		rx, ry := x>>k&1, y>>k&1
		d = d<<2 | 3*rx ^ ry
		// In the lower half (ry = 0) x and y change places, and on its right side (rx = 1) are turned over before. As
		// masks: half the branches would be foreseen wrongly. Bits above the one just taken do not matter any more.
		lower := ry - 1
		turn := lower & -rx
		x, y = x^turn, y^turn
		swap := (x ^ y) & lower
		x, y = x^swap, y^swap
	}
	return d
}

// Search appends the numbers of all boxes that meet q to found and returns it. Their order is that of the tree: fixed,
// but of no meaning.
func (t *Tree) Search(q geo.Box, found []uint32) []uint32 {
	if len(t.ids) == 0 {
		return found
	}
	top := len(t.levels) - 1
	return t.search(top, 0, len(t.levels[top]), &q, found)
}

func (t *Tree) search(level, from, to int, q *geo.Box, found []uint32) []uint32 {
	boxes := t.levels[level]
	for i := from; i < min(to, len(boxes)); i++ {
		switch {
		case !boxes[i].Meets(q):
		case level == 0:
			found = append(found, t.ids[i])
		default:
			found = t.search(level-1, i*fan, i*fan+fan, q, found)
		}
	}
	return found
}
