package arrange

import (
	"errors"
	"slices"

	"rootworthy/internal/geo"
)

// maxCrossings bounds the crossings of one drawn polygon; see BenchmarkTangle for what a million cost. A
// boundary walked with a bad receiver has dozens; only made-up input has more.
const maxCrossings = 1 << 17

var errTangled = errors.New("more crossings than any boundary has")

// grid is the grid that edges are noded on, its cells a whole number of units of the edges' own grid wide. The cell of
// point p covers everything that rounds to p, half up:
//
//	2·size·p − size <= 2·coordinate < 2·size·p + size
//
// so every place is in exactly one cell.
type grid struct{ size int64 }

// round returns the cell of a place given in doubled coordinates.
func (g grid) round(x2, y2 int64) geo.Pt {
	return geo.Pt{X: floorDiv(x2+g.size, 2*g.size), Y: floorDiv(y2+g.size, 2*g.size)}
}

// floorDiv divides and rounds down; d is positive.
func floorDiv(n, d int64) int64 {
	q := n / d
	if n%d < 0 {
		q--
	}
	return q
}

// around returns a box, in undoubled coordinates, that holds the cell.
func (g grid) around(c geo.Pt) geo.Box {
	x, y, h := c.X*g.size, c.Y*g.size, g.size/2+1
	return geo.Box{X0: x - h, Y0: y - h, X1: x + h, Y1: y + h}
}

// meets says whether the edge from a to b has a point in the cell.
//
// Take the cell as closed, with its right and upper sides moved in by e > 0. Two convex figures are apart if and
// only if they are so as seen along a side of one of them: along X, along Y, or along the edge. The first two compare
// coordinates; for the third all four corners lie strictly on one side of the edge. The cell has a point in common
// with the edge if the closed cell has for small enough e, so where a corner lies on the line, its move by e
// decides.
func (g grid) meets(a, b, cell geo.Pt) bool {
	a, b = geo.Pt{X: 2 * a.X, Y: 2 * a.Y}, geo.Pt{X: 2 * b.X, Y: 2 * b.Y}
	x0, y0 := 2*g.size*cell.X-g.size, 2*g.size*cell.Y-g.size
	x1, y1 := x0+2*g.size, y0+2*g.size
	if max(a.X, b.X) < x0 || min(a.X, b.X) >= x1 || max(a.Y, b.Y) < y0 || min(a.Y, b.Y) >= y1 {
		return false
	}
	dx, dy := b.X-a.X, b.Y-a.Y
	first := sideOrTie(a, b, geo.Pt{X: x0, Y: y0}, 0)
	return first == 0 ||
		sideOrTie(a, b, geo.Pt{X: x1, Y: y0}, dy) != first || // moved by (−e, 0): its product grows by e·dy
		sideOrTie(a, b, geo.Pt{X: x0, Y: y1}, -dx) != first || // by (0, −e): by −e·dx
		sideOrTie(a, b, geo.Pt{X: x1, Y: y1}, dy-dx) != first
}

// sideOrTie returns the side of a-b that p lies on, where on the line the sign of tie decides.
func sideOrTie(a, b, p geo.Pt, tie int64) int {
	s := geo.Orient(a, b, p)
	switch {
	case s != 0:
		return s
	case tie > 0:
		return 1
	case tie < 0:
		return -1
	}
	return 0
}

// node returns the lines noded on a grid, merged: edges meet only in common ends. This is snap rounding (Hobby 1999;
// Guibas and Marimont 1998): the cells of all ends and all crossings are hot, and every edge becomes the chain of the
// centres of the hot cells it meets, in order.
//
// Why edges then meet in common ends only. Shrink all hot cells to their centres, at the same pace, and drag along
// what is in them; between two hot cells on its way an edge stays straight. Say the time goes from 0 to 1.
//
//   - At time t, a place on an edge that was at p has gone to p + t·v, where v lies in the half-open square S of the
//     moves (−½, ½]² from a place in a cell to its centre: the ends of a straight piece move so, and S is convex.
//   - Suppose a straight piece then touches something of hot cell c, which was at q: p + t·v = q + t·(c − q). So
//     p = (1−t)·q + t·(c − v) lies between q and c − v, which are both in cell c. Cells are convex: the edge met
//     cell c from the start, and c is an end of the piece.
//   - So pieces without a common cell, which do not meet at the start since all meetings are in hot cells, never
//     do. Of pieces with one common cell none goes through the end of the other (t = 1), so they meet in the centre
//     only; with two common cells they are the same.
//
// For the same reason the winding number of a face does not change while it lives, though thin faces vanish: what tiled
// the ground still does.
//
// limit bounds the number of crossings; 0 means no bound.
func (l *lines) node(g grid, limit int) (*lines, error) {
	boxes := make([]geo.Box, len(l.edges))
	for e := range l.edges {
		boxes[e] = boxOf(l.ends(int32(e)))
	}
	tree := newBoxTree(boxes)
	hot, err := l.crossings(g, boxes, tree, limit)
	if err != nil {
		return nil, err
	}
	for _, p := range l.points {
		hot = append(hot, g.round(2*p.X, 2*p.Y))
	}
	slices.SortFunc(hot, geo.Pt.Compare)
	out := &lines{winds: l.winds, points: slices.Compact(hot)}
	out.chain(l, l.hits(g, tree, out.points))
	out.merge()
	return out, nil
}

// crossings returns the cells of all points where two edges cross.
func (l *lines) crossings(g grid, boxes []geo.Box, tree *boxTree, limit int) (hot []geo.Pt, err error) {
	var near []int32
	for e := range boxes {
		a, b := l.ends(int32(e))
		near = tree.find(boxes[e], near[:0])
		for _, f := range near {
			if int(f) <= e {
				continue
			}
			if c, d := l.ends(f); crosses(a, b, c, d) {
				hot = append(hot, g.round(crossing(a, b, c, d)))
			}
		}
		if limit > 0 && len(hot) > limit {
			return nil, errTangled
		}
	}
	return hot, nil
}

// hit says that an edge meets a hot cell, by their numbers.
type hit struct{ edge, cell int32 }

// hits returns all meetings of edges and hot cells.
func (l *lines) hits(g grid, tree *boxTree, hot []geo.Pt) []hit {
	all := make([]hit, 0, 2*len(l.edges)+len(hot))
	var near []int32
	for i, c := range hot {
		near = tree.find(g.around(c), near[:0])
		for _, e := range near {
			if a, b := l.ends(e); g.meets(a, b, c) {
				all = append(all, hit{e, int32(i)})
			}
		}
	}
	return all
}

// chain adds, for every edge of the lines noded, the edges between the hot cells it meets, in order. An edge goes through
// cells in order of X, and within the same X in order of Y, up or down with it; so does an upright one.
func (l *lines) chain(from *lines, hits []hit) {
	slices.SortFunc(hits, func(h, k hit) int {
		if h.edge != k.edge {
			return int(h.edge - k.edge)
		}
		if l.points[h.cell].X == l.points[k.cell].X {
			if a, b := from.ends(h.edge); b.Y < a.Y {
				return int(k.cell - h.cell)
			}
		}
		return int(h.cell - k.cell) // hot cells are numbered in order
	})
	for i := 1; i < len(hits); i++ {
		if hits[i].edge == hits[i-1].edge {
			p, q, delta := hits[i-1].cell, hits[i].cell, from.edges[hits[i].edge].delta
			if p > q {
				p, q, delta = q, p, l.winds.neg(delta)
			}
			l.edges = append(l.edges, edge{p, q, delta})
		}
	}
}
