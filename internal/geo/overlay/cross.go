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
	reach := f.grid.box(ox+int64(b.x0), oy+int64(b.y0), ox+int64(b.x1), oy+int64(b.y1)).reach()
	for i, fc := range f.coarse {
		if reach.meets(fc) {
			w.chunkPair(c, i)
		}
	}
}

// chunkPair looks for crossings of survey chunk c with field chunk fc. Only edges that meet the common part of their
// boxes come into question; mostly there are two or three of each.
func (w *worker) chunkPair(c, fc int) {
	f, s := &w.field, w.soil
	sb, fb := &s.boxes[c], &f.boxes[fc]
	ox, oy := s.origin.X, s.origin.Y
	x0, x1 := max(int64(sb.x0), fb.X0-ox), min(int64(sb.x1), fb.X1-ox)
	y0, y1 := max(int64(sb.y0), fb.Y0-oy), min(int64(sb.y1), fb.Y1-oy)
	if x0 > x1 || y0 > y1 { // also where one of them has no edges
		return
	}
	common := offbox{int32(x0), int32(y0), int32(x1), int32(y1)}
	pts := s.pts[c*chunk : c*chunk+int(s.edges[c])+1]
	m := common.edgesIn(pts, &w.soilEdges)
	if m == 0 {
		return
	}
	first := fc << f.shift
	if f.shift == 0 {
		w.longEdge(pts, w.soilEdges[:m], c*chunk, first)
		return
	}
	land, edges := &w.landEdges, f.pts[first:first+int(f.edges[fc])+1]
	box := geo.Box{X0: ox + x0, Y0: oy + y0, X1: ox + x1, Y1: oy + y1}
	n := 0
	for i := range len(edges) - 1 {
		land[n&(chunk-1)] = i
		n += meets(edges[i], edges[i+1], &box)
	}
	for _, i := range w.soilEdges[:m] {
		w.shortEdges(pts[i], pts[i+1], edges, w.landEdges[:n], c*chunk+i, first)
	}
}

// shortEdges looks for crossings of the survey edge a→b, number se, with those edges along pts that land lists, the first
// of which is field edge number fe. Few of them have their ends on different sides of it: that is looked at first, once
// for each point.
func (w *worker) shortEdges(a, b offset, pts []geo.Pt, land []int, se, fe int) {
	ox, oy := w.soil.origin.X, w.soil.origin.Y
	dx, dy := int64(b.x)-int64(a.x), int64(b.y)-int64(a.y)
	c := dx*(int64(a.y)+oy) - dy*(int64(a.x)+ox) // this wraps, but what it is taken off is off by the same
	if dy > 0 || dy == 0 && dx < 0 {
		c++ // a tie is right: see fieldLeft
	}
	last, op, oq := -1, int64(0), int64(0)
	for _, k := range land {
		if op = oq; k != last {
			op = dx*pts[k].Y - dy*pts[k].X - c
		}
		last = k + 1
		oq = dx*pts[last].Y - dy*pts[last].X - c
		if op^oq < 0 {
			p, q := geo.Pt{X: ox + int64(a.x), Y: oy + int64(a.y)}, geo.Pt{X: ox + int64(b.x), Y: oy + int64(b.y)}
			w.crossEdges(p, q, pts[k], pts[last], se, fe+k)
		}
	}
}

// longEdge looks for crossings of field edge fe with those edges along pts that soils lists, the first of which is survey
// edge number se. Beside a field edge that is long for its chunk, survey edges are short, and few of them have their
// ends on different sides of it: again that comes first.
func (w *worker) longEdge(pts []offset, soils []int, se, fe int) {
	p, q := w.field.pts[fe], w.field.pts[fe+1]
	ox, oy := w.soil.origin.X, w.soil.origin.Y
	dx, dy := q.X-p.X, q.Y-p.Y
	c := dx*(p.Y-oy) - dy*(p.X-ox)
	if tie(p, q) {
		c++ // a tie is right here, else left: see soilLeft
	}
	last, oa, ob := -1, int64(0), int64(0)
	for _, i := range soils {
		if oa = ob; i != last {
			oa = dx*int64(pts[i].y) - dy*int64(pts[i].x) - c
		}
		last = i + 1
		ob = dx*int64(pts[last].y) - dy*int64(pts[last].x) - c
		if oa^ob < 0 {
			w.crossEdges(w.soil.at(se+i), w.soil.at(se+last), p, q, se+i, fe)
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
