package terrain

import (
	"context"
	"math"
)

// flood returns the heights with every hollow filled up to its lowest way out: water rises from the rim inwards, always at
// the lowest place that is wet. With tilt, what is filled rises by the smallest step a float64 has, cell by cell away from
// its way out, so that every cell has a lower neighbour.
//
// Source: Barnes, Lehman, Mulla, Priority-flood, Computers & Geosciences 62 (2014), algorithms 2 and 3.
func (s *surface) flood(ctx context.Context, tilt bool) ([]float64, error) {
	level := append([]float64(nil), s.z...)
	wet := make([]bool, len(level))
	// Cells on the shore: wet, with neighbours not looked at yet.
	var open heap
	for i := range level {
		// the rim: the edge of the raster, and cells beside missing ones, where water may leave
		if !s.gone[i] && s.rim(i) {
			open.push(level[i], int32(i))
			wet[i] = true
		}
	}
	var filled []int32 // cells of hollows, in the order in which water reached them
	for n, next := 0, 0; len(open.items) > 0 || next < len(filled); n++ {
		if n%(1<<16) == 0 && ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
		var i int32
		switch {
		// A filled cell stands at the level that the water has; only a place that is lower still goes before it.
		case next < len(filled) && !(len(open.items) > 0 && open.items[0].z < level[filled[next]]):
			i = filled[next]
			next++
		default:
			i = open.pop()
		}
		// all done with: the list starts over and stays as short as the largest hollow
		if next == len(filled) {
			filled, next = filled[:0], 0
		}
		least := level[i]
		if tilt {
			least = math.Nextafter(least, math.Inf(1))
		}
		for _, step := range around() {
			j, ok := s.neighbour(int(i), step)
			if !ok || wet[j] {
				continue
			}
			wet[j] = true
			// within a hollow, or level ground under tilt: filled cells need no heap, which is what makes this quick
			if level[j] <= least {
				level[j] = least
				filled = append(filled, int32(j))
				continue
			}
			open.push(level[j], int32(j))
		}
	}
	return level, nil
}

// heap keeps cells by height, the lowest first; of equal ones the one that came first.
type heap struct {
	items []item
	// Counts pushes, each cell at most once; cells are fewer than 2^31.
	n uint32
}

// item is a cell with the number by which it came, so that equal heights have an order.
type item struct {
	z    float64
	came uint32
	cell int32
}

// before orders by height, then by coming.
func (a item) before(b item) bool { return a.z < b.z || a.z == b.z && a.came < b.came }

// push adds a cell and lets it rise to its place.
func (h *heap) push(z float64, cell int32) {
	h.items = append(h.items, item{z, h.n, cell})
	h.n++
	for i := len(h.items) - 1; i > 0; {
		up := (i - 1) / 2
		if !h.items[i].before(h.items[up]) {
			break
		}
		h.items[i], h.items[up] = h.items[up], h.items[i]
		i = up
	}
}

// pop takes the lowest cell; the last one fills its place and sinks.
func (h *heap) pop() int32 {
	top, last := h.items[0].cell, len(h.items)-1
	h.items[0] = h.items[last]
	h.items = h.items[:last]
	for i := 0; ; {
		least := i
		for k := 2*i + 1; k <= 2*i+2 && k < last; k++ {
			if h.items[k].before(h.items[least]) {
				least = k
			}
		}
		if least == i {
			return top
		}
		h.items[i], h.items[least] = h.items[least], h.items[i]
		i = least
	}
}
