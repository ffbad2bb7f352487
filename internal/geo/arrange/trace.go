package arrange

import (
	"slices"

	"rootworthy/internal/geo"
)

// ground takes the polygons whose ground is the faces with a winding vector that keep accepts.
//
// The border is the edges with ground on one side only, run with the ground on the left. At a point where several
// border edges meet, the walk goes on along the first border edge clockwise from the one it came by: between the two
// lies nothing but ground, so a walk goes round one connected piece of ground and never from one piece to another that
// it only touches. Each walk is then split where it meets itself, into simple rings:
//
//	 two pieces meet in v              one piece, closed round a hole in v
//	┌───┐ ground                      ┌─────────────┐
//	│ A └─v───┐   walks A, B          │ ground ┌──v─┘  one walk, split into
//	└─────┤ B │                       │        └─┘ │   an outer ring and a hole
//	      └───┘                       └────────────┘
func (lb *labelled) ground(keep func([]wind) bool) []Polygon {
	kept := make([]bool, len(lb.winds.vecs))
	for i, v := range lb.winds.vecs {
		kept[i] = i > 0 && keep(v) // the face outside everything, vector 0, is never ground
	}
	w := newWalker(lb, kept)
	w.walkAll()
	return w.polygons()
}

// walker traces the border of the ground and keeps what is needed to give each hole to its piece.
type walker struct {
	lb     *labelled
	kept   []bool  // per winding vector: is it ground
	outs   []int32 // border edges, by the point they leave from
	outAt  []int32 // per point: where its edges begin in outs; one more at the end
	piece  []int32 // per edge: the piece whose border it is on, -1 before
	pieces []piece
	at     []int32 // per point: 1 + its place in the walk under way, 0 if not on it
}

// piece is one walk: the outer border of a connected piece of ground with the holes that touch it, or one or more
// holes that hang together.
type piece struct {
	outer []geo.Pt // nil for holes alone
	holes [][]geo.Pt
	least int32 // the least edge of the walk: the lowest of those that start in its least point
}

func newWalker(lb *labelled, kept []bool) *walker {
	w := &walker{lb: lb, kept: kept}
	w.outAt = make([]int32, len(lb.points)+1)
	w.at = make([]int32, len(lb.points))
	w.piece = make([]int32, len(lb.edges))
	n := 0
	for e := range lb.edges {
		w.piece[e] = -1
		if w.border(int32(e)) {
			w.outAt[w.tail(int32(e))+1]++
			n++
		}
	}
	for i := range w.at {
		w.outAt[i+1] += w.outAt[i]
	}
	w.outs = make([]int32, n)
	next := slices.Clone(w.outAt)
	for e := range lb.edges {
		if w.border(int32(e)) {
			t := w.tail(int32(e))
			w.outs[next[t]] = int32(e)
			next[t]++
		}
	}
	return w
}

// border says whether ground lies on just one side of edge e.
func (w *walker) border(e int32) bool { return w.kept[w.lb.under[e]] != w.kept[w.lb.over[e]] }

// tail returns the point border edge e leaves from when run with the ground on its left.
func (w *walker) tail(e int32) int32 {
	if w.kept[w.lb.over[e]] {
		return w.lb.from[e]
	}
	return w.lb.to[e]
}

// head returns the point border edge e goes to.
func (w *walker) head(e int32) int32 {
	if w.kept[w.lb.over[e]] {
		return w.lb.to[e]
	}
	return w.lb.from[e]
}

// next returns the border edge that goes on with the ground after edge e.
func (w *walker) next(e int32) int32 {
	v := w.head(e)
	outs := w.outs[w.outAt[v]:w.outAt[v+1]]
	best := outs[0]
	if len(outs) > 1 {
		p := w.lb.points
		back := p[w.tail(e)]
		for _, o := range outs[1:] {
			if clockwiseFirst(p[v], back, p[w.head(o)], p[w.head(best)]) {
				best = o
			}
		}
	}
	return best
}

// clockwiseFirst says whether, turning clockwise round v from the direction of back, p comes before q. Neither has the
// direction of back.
func clockwiseFirst(v, back, p, q geo.Pt) bool {
	// Right of the line through back and v comes first, then straight ahead, then left of it.
	if sp, sq := geo.Orient(v, back, p), geo.Orient(v, back, q); sp != sq {
		return sp < sq
	}
	return geo.Orient(v, p, q) < 0
}

// walkAll walks round every piece, beginning with the least edge. Edges are in order of their lesser ends, but those
// that start in one point are not in order of height; least is corrected along the way.
func (w *walker) walkAll() {
	for e := range w.lb.edges {
		if w.piece[e] < 0 && w.border(int32(e)) {
			w.walk(int32(e))
		}
	}
}

// walk follows the border from edge first back to it. Each border edge has one successor and is the successor of one
// edge (the borders round a point alternate between leaving and arriving), so the walk closes.
func (w *walker) walk(first int32) {
	id := int32(len(w.pieces))
	pc := piece{least: first}
	var stack []int32 // points of the walk so far, loops taken out
	for e := first; w.piece[e] < 0; e = w.next(e) {
		w.piece[e] = id
		if w.lower(e, pc.least) {
			pc.least = e
		}
		v := w.tail(e)
		if i := w.at[v]; i > 0 {
			pc.add(w.loop(stack[i-1:]))
			for _, u := range stack[i:] {
				w.at[u] = 0
			}
			stack = stack[:i]
			continue
		}
		stack = append(stack, v)
		w.at[v] = int32(len(stack))
	}
	pc.add(w.loop(stack))
	for _, u := range stack {
		w.at[u] = 0
	}
	w.pieces = append(w.pieces, pc)
}

// lower says whether edge e starts in a lesser point than f, or below it in the same point.
func (w *walker) lower(e, f int32) bool {
	a, b := &w.lb.edges[e], &w.lb.edges[f]
	if a.a != b.a {
		return a.a.Less(b.a)
	}
	return geo.Orient(a.a, a.b, b.b) > 0
}

// loop returns a simple ring of points, beginning with the least.
func (w *walker) loop(ids []int32) []geo.Pt {
	ring := make([]geo.Pt, 0, len(ids))
	k := slices.Index(ids, slices.Min(ids)) // points are numbered in order
	for _, id := range ids[k:] {
		ring = append(ring, w.lb.points[id])
	}
	for _, id := range ids[:k] {
		ring = append(ring, w.lb.points[id])
	}
	return ring
}

// add gives the piece a ring.
func (pc *piece) add(ring []geo.Pt) {
	if counterClockwise(ring) {
		pc.outer = ring
	} else {
		pc.holes = append(pc.holes, ring)
	}
}

// counterClockwise says which way a simple ring runs that begins with its least point: at that point the ring turns
// the way it runs as a whole.
func counterClockwise(ring []geo.Pt) bool {
	return geo.Orient(ring[len(ring)-1], ring[0], ring[1]) > 0
}

// polygons gives holes to the pieces they lie in and returns the pieces in canonical order.
//
// The ground round a hole reaches down from its least point to the edge straight below. If that is a border, the
// ground belongs to the piece whose border it is; if not, ground lies below it too, and the search goes on there. The
// piece found begins left of the hole, so it has been placed before.
func (w *walker) polygons() []Polygon {
	owner := make([]int, len(w.pieces))
	var out []Polygon
	for i, pc := range w.pieces {
		if pc.outer != nil {
			owner[i] = len(out)
			out = append(out, append(Polygon{pc.outer}, pc.holes...))
			continue
		}
		e := w.lb.below[pc.least]
		for !w.border(e) {
			e = w.lb.below[e]
		}
		owner[i] = owner[w.piece[e]]
		out[owner[i]] = append(out[owner[i]], pc.holes...)
	}
	canonical(out)
	return out
}
