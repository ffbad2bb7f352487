package flatgeobuf

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"
)

// The index: a tree of boxes, each node with up to nodeSize children, its levels written from the root down; a leaf
// for every feature, in their order.
const (
	nodeSize  = 16
	nodeBytes = 40 // four numbers of the box, an offset
)

// nodesOf returns how many nodes the index over n > 0 features has. There is a root above a single leaf too.
func nodesOf(n, size int) int {
	all := n
	for {
		n = (n + size - 1) / size
		all += n
		if n == 1 {
			return all
		}
	}
}

// noBox is the box of a feature without a shape: no window meets it, and joining it changes nothing.
func noBox() orb.Bound {
	return orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
}

func join(a, b orb.Bound) orb.Bound {
	return orb.Bound{Min: orb.Point{min(a.Min[0], b.Min[0]), min(a.Min[1], b.Min[1])}, Max: orb.Point{max(a.Max[0], b.Max[0]), max(a.Max[1], b.Max[1])}}
}

// node is a box with an offset: of a leaf, the place of the feature behind the first one's beginning, in bytes; of
// another, the number of its first child.
type node struct {
	box    orb.Bound
	offset uint64
}

// appendIndex appends the index over the leaves.
func appendIndex(b []byte, leaves []node) []byte {
	levels := [][]node{leaves}
	// At least once, so that a single leaf has a root above it.
	for level := leaves; ; {
		up := make([]node, 0, len(level)/nodeSize+1)
		for i := 0; i < len(level); i += nodeSize {
			// The number of the first child counts within its level here, and is set right when the levels are written.
			n := node{noBox(), uint64(i)}
			for _, child := range level[i:min(i+nodeSize, len(level))] {
				n.box = join(n.box, child.box)
			}
			up = append(up, n)
		}
		levels = append(levels, up)
		if level = up; len(level) == 1 {
			break
		}
	}
	before := uint64(0) // nodes of the levels above
	for k := len(levels) - 1; k >= 0; k-- {
		// With the level itself, since its children begin right behind it.
		before += uint64(len(levels[k]))
		for _, n := range levels[k] {
			if k > 0 { // its children stand in the level below
				n.offset += before
			}
			b = n.append(b)
		}
	}
	return b
}

// append writes a node: the box as min x, min y, max x, max y, then the offset.
func (n node) append(b []byte) []byte {
	for _, v := range [...]float64{n.box.Min[0], n.box.Min[1], n.box.Max[0], n.box.Max[1]} {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	return binary.LittleEndian.AppendUint64(b, n.offset)
}

// hilbert returns the place of a cell on the Hilbert curve through 65536 × 65536 cells.
//
// Source: the loop over bits as in H. S. Warren, Hacker's Delight, chapter 16, from memory; that neighbours on the curve
// are neighbours on the ground is tested.
func hilbert(x, y uint32) uint32 {
	const order = 16
	d := uint32(0)
	for s := uint32(1) << (order - 1); s > 0; s >>= 1 {
		var rx, ry uint32
		if x&s != 0 {
			rx = 1
		}
		if y&s != 0 {
			ry = 1
		}
		// Cells of all quarters that the curve passes before this one.
		d += s * s * ((3 * rx) ^ ry)
		if ry == 0 {
			// The quarter is turned so that the curve within it begins where the last quarter's ended.
			if rx == 1 {
				x, y = 1<<order-1-x, 1<<order-1-y
			}
			x, y = y, x
		}
	}
	return d
}

// place returns the place on the curve of the middle of a box within the extent of all.
func place(box, all orb.Bound) uint32 {
	const most = 1<<16 - 1
	cell := func(k int) uint32 {
		width := all.Max[k] - all.Min[k]
		at := ((box.Min[k]+box.Max[k])/2 - all.Min[k]) / width * most
		if !(at > 0) { // also when all have the same place, or none
			return 0
		}
		return uint32(min(at, most))
	}
	return hilbert(cell(0), cell(1))
}
