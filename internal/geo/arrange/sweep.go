package arrange

import (
	"slices"

	"rootworthy/internal/geo"
)

// labelled is an arrangement after the sweep: edges that meet only in common ends, and the faces beside them.
type labelled struct {
	*lines
	under, over []int32 // per edge: number of the winding vector of the face below and above it
	below       []int32 // per edge: the edge straight below its lesser end, -1 for none
	fanned      []int32 // scratch of fan
}

// sweep labels merged edges, going through the points from left to right (in order of X, then Y: as if the plane were
// tilted a hair, so that an upright edge also runs from left to right). ok is false if two edges cross, touch or
// overlap other than in a common end; then the edges need noding.
//
// That no crossing escapes is the argument of Shamos and Hoey (1976): suppose some do, and take the leftmost point p
// where two edges meet wrongly. Left of p the order of edges in the status is right. If p is an end of one edge
// inside another, place finds that other edge through p. If two edges start in p along each other, fan sees it. If p
// is inside both, some two edges through p lie next to each other just before p, since nothing ends between them
// there; when they became neighbours, clear compared them.
func (l *lines) sweep() (lb *labelled, ok bool) {
	n := len(l.edges)
	slab := make([]int32, 3*n)
	lb = &labelled{lines: l, under: slab[:n], over: slab[n : 2*n], below: slab[2*n:]}
	st := status{lines: l}
	ending := countBy(l.edges, len(l.points), func(e *edge) int32 { return e.b })
	for v := range l.points {
		if !lb.event(&st, int32(v), int(ending[v+1]-ending[v])) {
			return nil, false
		}
	}
	return lb, true
}

// event moves the sweep over point v, in which a number of edges end.
func (lb *labelled) event(st *status, v int32, ends int) bool {
	if ends == 0 && lb.starts[v] == lb.starts[v+1] {
		return true // all edges of the point have cancelled
	}
	at, ok := st.place(v, ends)
	if !ok {
		return false
	}
	starts, ok := lb.fan(v)
	if !ok {
		return false
	}
	st.remove(at, ends)
	at = st.insert(at, starts)
	lower, upper := st.before(at), st.after(at, len(starts))
	prev := lower
	for _, e := range starts {
		lb.below[e] = prev
		if prev >= 0 {
			lb.under[e] = lb.over[prev]
		}
		lb.over[e] = lb.winds.add(lb.under[e], lb.edges[e].delta)
		prev = e
	}
	if len(starts) == 0 {
		return st.clear(lower, upper)
	}
	return st.clear(lower, starts[0]) && st.clear(prev, upper)
}

// fan returns the edges that start in point v, from the lowest to the highest. ok is false if two of them run in the
// same direction.
func (lb *labelled) fan(v int32) (starts []int32, ok bool) {
	starts = lb.fanned[:0]
	for e := lb.starts[v]; e < lb.starts[v+1]; e++ {
		starts = append(starts, e)
	}
	lb.fanned = starts
	if len(starts) < 2 {
		return starts, true
	}
	ok = true
	slices.SortFunc(starts, func(i, j int32) int {
		a, b := lb.ends(i)
		_, c := lb.ends(j)
		side := geo.Orient(a, b, c)
		if side == 0 && i != j {
			ok = false
		}
		return -side
	})
	return starts, ok
}
