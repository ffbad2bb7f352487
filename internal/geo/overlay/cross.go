package overlay

import "rootworthy/internal/geo"

// crossing is where a field edge and a survey edge cross.
type crossing struct {
	fe, se int32   // edges: numbers of their first points
	t, s   float64 // how far along them, 0…1, to a few parts in 2^53; order.go knows what to do if that is too little
	at     geo.Pt  // the point, rounded to the grid
	enter  bool    // the field's boundary goes into the survey polygon here
}

// findCrossings fills w.xs with all crossings of the field's and the survey polygon's boundary.
//
// Chunks of the survey whose boxes meet the field are held against the chunks of the field, and only edges of chunks
// whose boxes meet against each other. Boxes that touch count as meeting, so nothing is missed for the infinitesimal
// shift.
func (w *worker) findCrossings() {
	w.xs = w.xs[:0]
	s := w.soil
	if s.wide != nil {
		w.findWide()
		return
	}
	for _, c := range w.near[s.nearFrom:s.nearTo] {
		w.chunkAgainstField(int(c))
	}
}

// chunkAgainstField looks for crossings of the field with survey chunk c.
func (w *worker) chunkAgainstField(c int) {
	f, s := &w.field, w.soil
	b := &s.boxes[c]
	ox, oy := s.origin.X, s.origin.Y
	box := geo.Box{X0: ox + int64(b.x0), Y0: oy + int64(b.y0), X1: ox + int64(b.x1), Y1: oy + int64(b.y1)}
	reach := f.grid.box(box.X0, box.Y0, box.X1, box.Y1).reach()
	var pts [chunk + 1]geo.Pt
	n := -1
	for i, fc := range f.coarse {
		if !reach.meets(fc) {
			continue
		}
		if n < 0 {
			n = int(s.edges[c])
			for i, p := range s.pts[c*chunk : c*chunk+n+1] {
				pts[i] = geo.Pt{X: ox + int64(p.x), Y: oy + int64(p.y)}
			}
		}
		w.chunkPair(pts[:n+1], c*chunk, &box, i)
	}
}

// chunkPair looks for crossings of the survey edges along pts, the first of which is edge number se and whose box is
// box, with field chunk fc. Only edges that meet the other chunk's box come into question.
func (w *worker) chunkPair(pts []geo.Pt, se int, box *geo.Box, fc int) {
	f := &w.field
	if f.edges[fc] == 0 {
		return
	}
	fb := &f.boxes[fc]
	var soils, land [chunk + 1]int
	m, n := 0, 0
	for i := 1; i < len(pts); i++ {
		soils[m] = i
		m += meets(pts[i-1], pts[i], fb)
	}
	if m == 0 {
		return
	}
	first := fc << f.shift
	if f.shift == 0 {
		w.longEdge(pts, soils[:m], se, first)
		return
	}
	edges := f.pts[first : first+int(f.edges[fc])+1]
	for i := 1; i < len(edges); i++ {
		land[n] = i
		n += meets(edges[i-1], edges[i], box)
	}
	for _, k := range land[:n] {
		p, q := edges[k-1], edges[k]
		for _, i := range soils[:m] {
			w.crossEdges(pts[i-1], pts[i], p, q, se+i-1, first+k-1)
		}
	}
}

// longEdge looks for crossings of field edge fe with those survey edges along pts whose last points have the numbers
// in soils. Beside a field edge that is long for its chunk, survey edges are short, and few of them have their ends on
// different sides of it: that is looked at first, once for each point.
func (w *worker) longEdge(pts []geo.Pt, soils []int, se, fe int) {
	p, q := w.field.pts[fe], w.field.pts[fe+1]
	dx, dy := q.X-p.X, q.Y-p.Y
	c := dx*p.Y - dy*p.X // this wraps, but what is taken off it below is off by the same
	right := int64(0)    // a tie is left, unless it is right: see soilLeft
	if tie(p, q) {
		right = 1
	}
	last, ob := -1, int64(0)
	for _, i := range soils {
		oa := ob
		if i-1 != last {
			oa = dx*pts[i-1].Y - dy*pts[i-1].X - c - right
		}
		ob = dx*pts[i].Y - dy*pts[i].X - c - right
		last = i
		if oa^ob < 0 {
			w.crossEdges(pts[i-1], pts[i], p, q, se+i-1, fe)
		}
	}
}

// crossEdges adds the crossing of survey edge a→b, number se, with field edge p→q, number fe, if there is one.
func (w *worker) crossEdges(a, b, p, q geo.Pt, se, fe int) {
	op, oq := cross64(a, b, p), cross64(a, b, q)
	if op&oq|-op&-oq < 0 { // both negative or both positive
		return
	}
	left := tie(a, b)
	pl, ql := op > 0 || op == 0 && left, oq > 0 || oq == 0 && left
	if pl == ql {
		return
	}
	oa, ob := cross64(p, q, a), cross64(p, q, b)
	left = !tie(p, q)
	if (oa > 0 || oa == 0 && left) == (ob > 0 || ob == 0 && left) {
		return
	}
	w.xs = append(w.xs, crossing{
		fe: int32(fe), se: int32(se), enter: ql,
		t:  float64(op) / float64(op-oq),
		s:  float64(oa) / float64(oa-ob),
		at: pointAlong(a, b, oa, ob),
	})
}

// pointAlong returns the point of the survey edge a→b where the cross products oa and ob with a field edge balance,
// rounded to the grid. It is worked out from the lesser end: the neighbour, who has the edge as b→a, gets the same
// point to the last bit. Where the crossing is an end of either edge, it is that end exactly.
func pointAlong(a, b geo.Pt, oa, ob int64) geo.Pt {
	if b.Less(a) {
		a, b, oa, ob = b, a, ob, oa
	}
	s := float64(oa) / float64(oa-ob)
	x, y := float64(b.X-a.X)*s, float64(b.Y-a.Y)*s
	dx, dy := roundFast(x), roundFast(y)
	// Before rounding x and y are off by at most 2^30 · 4e-16 < 1e-6 units: enough, unless they lie half way between
	// two.
	if halfway(x-float64(dx)) || halfway(y-float64(dy)) {
		return exactPointAlong(a, b, geo.Wide(oa), geo.Wide(ob))
	}
	return geo.Pt{X: a.X + dx, Y: a.Y + dy}
}

func halfway(rest float64) bool { return rest > 0.5-1e-6 || rest < 1e-6-0.5 }
