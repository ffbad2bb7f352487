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
	return lb.split(1, func(v []wind) []int32 {
		if keep(v) {
			return []int32{0}
		}
		return nil
	})[0]
}

// walker traces the borders of grounds, one after the other, and keeps what is needed to give each hole to its piece.
type walker struct {
	lb     *labelled
	ground []side  // per edge: where the ground is of which it is a border
	piece  []int32 // per border edge: the piece it goes round, -1 before
	outs   []int32 // per point: the border edge that leaves from it, -1 for none
	more   []int32 // per border edge: the next that leaves from the same point, -1 for none
	at     []int32 // per point: 1 + its place in the walk under way, 0 if not on it
	stack  []int32
	pieces []piece
}

// side says on which side of an edge ground lies, when it is on one side only.
type side uint8

const (
	noBorder side = iota
	groundAbove
	groundBelow
)

// border is a border edge.
type border struct {
	edge int32
	side side
}

// piece is one walk: the outer border of a connected piece of ground with the holes that touch it, or one or more
// holes that hang together.
type piece struct {
	outer []geo.Pt // nil for holes alone
	holes [][]geo.Pt
	least int32 // the lowest of the edges that start in the least point of the walk
}

func newWalker(lb *labelled) *walker {
	n, p := len(lb.edges), len(lb.points)
	slab := make([]int32, 2*n+2*p)
	w := &walker{lb: lb, ground: make([]side, n),
		piece: slab[:n], more: slab[n : 2*n], outs: slab[2*n : 2*n+p], at: slab[2*n+p:]}
	for i := range w.outs {
		w.outs[i] = -1
	}
	return w
}

// trace returns the polygons inside a border, whose edges are in order. The walker can then be used again.
func (w *walker) trace(edges []border) []Polygon {
	w.pieces = w.pieces[:0]
	for _, b := range edges {
		w.ground[b.edge], w.piece[b.edge] = b.side, -1
		t := w.tail(b.edge)
		w.more[b.edge], w.outs[t] = w.outs[t], b.edge
	}
	for _, b := range edges {
		if w.piece[b.edge] < 0 {
			w.walk(b.edge)
		}
	}
	out := w.polygons()
	for _, b := range edges {
		w.outs[w.tail(b.edge)] = -1
	}
	for _, b := range edges {
		w.ground[b.edge] = noBorder
	}
	return out
}

// tail returns the point border edge e leaves from when run with the ground on its left.
func (w *walker) tail(e int32) int32 {
	if w.ground[e] == groundAbove {
		return w.lb.edges[e].a
	}
	return w.lb.edges[e].b
}

// head returns the point border edge e goes to.
func (w *walker) head(e int32) int32 {
	if w.ground[e] == groundAbove {
		return w.lb.edges[e].b
	}
	return w.lb.edges[e].a
}

// next returns the border edge that goes on with the ground after edge e.
func (w *walker) next(e int32) int32 {
	v := w.head(e)
	best := w.outs[v]
	if w.more[best] < 0 {
		return best
	}
	p := w.lb.points
	back := p[w.tail(e)]
	for o := w.more[best]; o >= 0; o = w.more[o] {
		if clockwiseFirst(p[v], back, p[w.head(o)], p[w.head(best)]) {
			best = o
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

// walk follows the border from edge first back to it. Each border edge has one successor and is the successor of one
// edge (the borders round a point alternate between leaving and arriving), so the walk closes.
func (w *walker) walk(first int32) {
	id := int32(len(w.pieces))
	pc := piece{least: first}
	stack := w.stack[:0] // points of the walk so far, loops taken out
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
	w.stack = stack
	w.pieces = append(w.pieces, pc)
}

// lower says whether edge e starts in a lesser point than f, or below it in the same point.
func (w *walker) lower(e, f int32) bool {
	if a, b := w.lb.edges[e].a, w.lb.edges[f].a; a != b {
		return a < b // points are numbered in order
	}
	a, b := w.lb.ends(e)
	_, c := w.lb.ends(f)
	return geo.Orient(a, b, c) > 0
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
		for w.ground[e] == noBorder {
			e = w.lb.below[e]
		}
		owner[i] = owner[w.piece[e]]
		out[owner[i]] = append(out[owner[i]], pc.holes...)
	}
	canonical(out)
	return out
}
