package interp

import (
	"math"

	"github.com/paulmach/orb"
)

// nearby is the points that can be among the nearest k of any place of a block of ground. Cells of a block mostly share
// their neighbours, so a system is solved once for each set and not once for each cell.
type nearby struct {
	tree    *tree
	k       int
	indices []int32 // ascending
	hits    []hit
}

// around finds the points of a block. If p is at most reach from the middle, its k-th nearest is at most reach farther
// than the middle's, and so is at most twice reach farther from the middle.
func (t *tree) around(middle orb.Point, reach float64, k int) nearby {
	hits := t.nearest(middle, k, -1, nil)
	far := math.Sqrt(hits[len(hits)-1].d2) + 2*reach
	indices := t.within(middle, far*(1+1e-9), nil) // rounding must not lose one
	return nearby{t, k, indices, make([]hit, len(indices))}
}

// nearest returns the k points nearest to p, in no order; only to be read until the next call. i of a hit counts in
// indices.
func (n *nearby) nearest(p orb.Point) []hit {
	for i, index := range n.indices {
		n.hits[i] = hit{square(p, n.tree.points[index].At), int32(i)}
	}
	// else there are no more points about than neighbours asked for, and all are taken
	if len(n.hits) > n.k {
		selectNearest(n.hits, n.k)
		return n.hits[:n.k]
	}
	return n.hits
}

// selectNearest puts the k closest hits first, in no order (Hoare's selection).
func selectNearest(hits []hit, k int) {
	lo, hi := 0, len(hits)-1
	for lo < hi {
		pivot := hits[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for hits[i].closer(pivot) {
				i++
			}
			for pivot.closer(hits[j]) {
				j--
			}
			if i <= j {
				hits[i], hits[j] = hits[j], hits[i]
				i++
				j--
			}
		}
		switch {
		case k-1 <= j:
			hi = j
		case k-1 >= i:
			lo = i
		default:
			return
		}
	}
}

// byIndex returns the k points nearest to p in the order of their index; only to be read until the next call.
func (n *nearby) byIndex(p orb.Point, chosen []hit) []hit {
	// nearer than any; becomes the farthest of the k nearest
	last := hit{-1, -1}
	for _, h := range n.nearest(p) {
		if last.closer(h) {
			last = h
		}
	}
	chosen = chosen[:0]
	for i, index := range n.indices {
		h := hit{square(p, n.tree.points[index].At), int32(i)}
		// at most as far as the last: exactly the k nearest, this time by index
		if !last.closer(h) {
			h.i = index
			chosen = append(chosen, h)
		}
	}
	return chosen
}

// tile implements estimator.
func (d *IDW) tile(middle orb.Point, reach float64) func(orb.Point) (float64, float64) {
	n := d.tree.around(middle, reach, d.k)
	chosen := make([]hit, 0, d.k)
	return func(p orb.Point) (float64, float64) {
		chosen = n.byIndex(p, chosen)
		return d.from(chosen), 0
	}
}

// setKey is a set of up to 256 of the points near a block.
type setKey [4]uint64

// mostInSet is what a key has bits for.
const mostInSet = 256

// tile implements estimator.
func (k *Kriging) tile(middle orb.Point, reach float64) func(orb.Point) (float64, float64) {
	if k.all != nil {
		room := make([]float64, len(k.all.points))
		return func(p orb.Point) (float64, float64) { return k.all.at(p, room) }
	}
	n := k.tree.around(middle, reach, k.k)
	if len(n.indices) > mostInSet { // points stand closer than cells: nothing is shared
		return k.At
	}
	solved := map[setKey]*system{}
	room := make([]float64, k.k)
	return func(p orb.Point) (float64, float64) {
		// A set as bits, so that neighbours in any order are the same set.
		var key setKey
		for _, h := range n.nearest(p) {
			key[h.i/64] |= 1 << (h.i % 64)
		}
		s := solved[key]
		if s == nil {
			s = newSystem(k.v, n.members(key))
			solved[key] = s
		}
		return s.at(p, room)
	}
}

// members returns the points of a set by index.
func (n *nearby) members(key setKey) []Sample {
	var out []Sample
	for i, index := range n.indices {
		if key[i/64]&(1<<(i%64)) != 0 {
			out = append(out, n.tree.points[index])
		}
	}
	return out
}
