package arrange

import (
	"slices"

	"rootworthy/internal/geo"
)

// labelled is an arrangement after the sweep: edges that meet only in common ends, and the faces beside them.
type labelled struct {
	*lines
	from, to    []int32  // per edge: numbers of its ends in points
	points      []geo.Pt // all ends, in order
	under, over []int32  // per edge: number of the winding vector of the face below and above it
	below       []int32  // per edge: the edge straight below its lesser end, -1 for none
	fanned      []int32  // scratch of fan
}

// sweep labels merged edges, going through their ends from left to right (in order of X, then Y: as if the plane
// were tilted a hair, so that an upright edge also runs from left to right). ok is false if two edges cross, touch
// or overlap other than in a common end; then the edges need noding.
//
// That no crossing escapes is the argument of Shamos and Hoey (1976): suppose some do, and take the leftmost point p
// where two edges meet wrongly. Left of p the order of edges in the status is right. If p is an end of one edge
// inside another, place finds that other edge through p. If two edges start in p along each other, fan sees it. If p
// is inside both, some two edges through p lie next to each other just before p, since nothing ends between them
// there; when they became neighbours, clear compared them.
func (l *lines) sweep() (lb *labelled, ok bool) {
	n := len(l.edges)
	lb = &labelled{
		lines: l,
		from:  make([]int32, n), to: make([]int32, n),
		points: make([]geo.Pt, 0, n+1),
		under:  make([]int32, n), over: make([]int32, n),
		below: make([]int32, n),
	}
	st := status{edges: l.edges}
	ending := l.byGreaterEnd()
	for start := 0; len(ending) > 0; { // every edge ends, so this covers all starts
		v := l.edges[ending[0]].b
		if start < n && l.edges[start].a.Less(v) {
			v = l.edges[start].a
		}
		id := int32(len(lb.points))
		lb.points = append(lb.points, v)
		ends := 0
		for ; ends < len(ending) && l.edges[ending[ends]].b == v; ends++ {
			lb.to[ending[ends]] = id
		}
		ending = ending[ends:]
		first := start
		for ; start < n && l.edges[start].a == v; start++ {
			lb.from[start] = id
		}
		if !lb.event(&st, v, ends, first, start) {
			return nil, false
		}
	}
	return lb, true
}

// byGreaterEnd returns the numbers of the edges in order of their greater ends.
func (l *lines) byGreaterEnd() []int32 {
	order := make([]int32, len(l.edges))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(i, j int32) int { return l.edges[i].b.Compare(l.edges[j].b) })
	return order
}

// event moves the sweep over point v, where `ends` edges end and the edges first..limit-1 start.
func (lb *labelled) event(st *status, v geo.Pt, ends, first, limit int) bool {
	at, ok := st.place(v, ends)
	if !ok {
		return false
	}
	starts, ok := lb.fan(first, limit)
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

// fan returns the edges first..limit-1, which start in one point, from the lowest to the highest. ok is false if two
// of them run in the same direction.
func (lb *labelled) fan(first, limit int) (starts []int32, ok bool) {
	if first == limit {
		return nil, true
	}
	starts = lb.fanned[:0]
	for e := first; e < limit; e++ {
		starts = append(starts, int32(e))
	}
	lb.fanned = starts
	if len(starts) == 1 {
		return starts, true
	}
	v := lb.edges[first].a
	ok = true
	slices.SortFunc(starts, func(i, j int32) int {
		side := geo.Orient(v, lb.edges[i].b, lb.edges[j].b)
		if side == 0 && i != j {
			ok = false
		}
		return -side
	})
	return starts, ok
}
