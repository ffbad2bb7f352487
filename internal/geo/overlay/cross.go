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
	f, s := &w.field, &w.soil
	if s.wide != nil {
		w.findWide()
		return
	}
	q := s.clamp(&f.box)
	w.near = w.near[:0]
	for i := range s.supers {
		if !s.supers[i].meets(&q) {
			continue
		}
		first := i * superChunk
		boxes := s.boxes[first:min(first+superChunk, len(s.boxes))]
		for k := range boxes {
			if boxes[k].meets(&q) {
				w.near = append(w.near, int32(first+k))
				w.fetched += s.pts[(first+k)*chunk].x // see fetch
			}
		}
	}
	for _, c := range w.near {
		w.chunkAgainstField(int(c))
	}
}

// clamp returns b as offsets, cut off where they end: whoever lies in the polygon's box is still found.
func (s *soil) clamp(b *geo.Box) offbox {
	cut := func(v int64) int32 { return int32(max(-1<<31, min(v, 1<<31-1))) }
	return offbox{cut(b.X0 - s.origin.X), cut(b.Y0 - s.origin.Y), cut(b.X1 - s.origin.X), cut(b.Y1 - s.origin.Y)}
}

// chunkAgainstField looks for crossings of the field with survey chunk c.
func (w *worker) chunkAgainstField(c int) {
	f, s := &w.field, &w.soil
	b := &s.boxes[c]
	box := geo.Box{X0: s.origin.X + int64(b.x0), Y0: s.origin.Y + int64(b.y0), X1: s.origin.X + int64(b.x1), Y1: s.origin.Y + int64(b.y1)}
	var pts [chunk + 1]geo.Pt
	n := -1
	for k := range f.supers {
		if !f.supers[k].Meets(&box) {
			continue
		}
		first := k * chunk
		boxes := f.boxes[first:min(first+chunk, len(f.boxes))]
		for i := range boxes {
			if !boxes[i].Meets(&box) {
				continue
			}
			if n < 0 {
				n = int(s.edges[c])
				for i, p := range s.pts[c*chunk : c*chunk+n+1] {
					pts[i] = geo.Pt{X: s.origin.X + int64(p.x), Y: s.origin.Y + int64(p.y)}
				}
			}
			w.chunkPair(pts[:n+1], c*chunk, &box, first+i)
		}
	}
}

// chunkPair looks for crossings of the survey edges along pts, the first of which is edge number se and whose box is
// box, with field chunk fc. Only edges that meet the other chunk's box come into question.
func (w *worker) chunkPair(pts []geo.Pt, se int, box *geo.Box, fc int) {
	f := &w.field
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
