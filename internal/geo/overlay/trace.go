package overlay

import "rootworthy/internal/geo"

// Rings of a piece are traced in turn along the field and along the survey polygon. Both have their ground on the
// left. Where the field enters the polygon, its boundary bounds the piece until it leaves; from there the polygon's
// boundary does, until it meets the field again; and so on until the ring is closed:
//
//	       ┌────── polygon ─────┐
//	       │                    │            enter ──field──▶ leave
//	┌──────┼─────────┐          │              ▲                │
//	│      │  piece  │          │              └──── polygon ◀──┘
//	│      └─────────┼──────────┘
//	└──── field ─────┘
//
// The next crossing along the field after an enter is a leave, and along the polygon after a leave an enter: both steps
// lead back where they came from in only one way, so the walk ends where it began and visits each crossing once.

// link finds for each crossing the next one along the field's ring and along the polygon's, round the ring's end. It
// returns false if entering and leaving do not alternate: then the polygon is not valid.
func (w *worker) link() bool {
	n := len(w.xs)
	w.nextField, w.nextSoil = grown(w.nextField, n), grown(w.nextSoil, n)
	w.inOrder = grown(w.inOrder, n)
	for i := range w.inOrder {
		w.inOrder[i] = int32(i)
	}
	ok := true
	for i := 0; i < n; {
		r := ringWith(w.field.rings, w.xs[i].fe)
		first := i
		for i < n && w.xs[i].fe < r.start+r.n {
			i++
		}
		ok = ok && w.linkRing(w.inOrder[first:i], w.nextField) && w.phase(r, &w.xs[first])
	}
	for i := 0; i < n; {
		r := ringWith(w.soil.rings, w.xs[w.bySoil[i]].se)
		first := i
		for i < n && w.xs[w.bySoil[i]].se < r.start+r.n {
			i++
		}
		ok = ok && w.linkRing(w.bySoil[first:i], w.nextSoil)
	}
	return ok
}

// linkRing makes each crossing of a ring, given in their order along it, point to the next.
func (w *worker) linkRing(xs []int32, next []int32) bool {
	last := xs[len(xs)-1]
	ok := len(xs)%2 == 0
	for _, x := range xs {
		next[last] = x
		ok = ok && w.xs[last].enter != w.xs[x].enter
		last = x
	}
	return ok
}

// phase says whether the first crossing of a field ring enters or leaves as it should: the ring's first point is
// inside the polygon by the even-odd count if and only if the first crossing leaves. In a polygon whose rings cross, a
// lobe may lie on the wrong side of its boundary; alternation alone would take its outside for its inside.
func (w *worker) phase(r span, first *crossing) bool {
	return w.soil.inSoil(w.field.pts[r.start]) != first.enter
}

func grown(s []int32, n int) []int32 {
	if cap(s) < n {
		return make([]int32, n, 2*n)
	}
	return s[:n]
}

// trace appends to w.out the rings of the field's ground in the survey polygon. It returns false if the
// polygon is not valid, which shows here in many cases and in others only when the rings are checked.
func (w *worker) trace() bool {
	w.findCrossings()
	if len(w.xs) > 0 {
		w.sortCrossings()
		if !w.link() {
			return false
		}
		w.traceCrossed()
	}
	w.addUncrossed()
	return true
}

func (w *worker) traceCrossed() {
	n := len(w.xs)
	w.seen = append(w.seen[:0], make([]bool, n)...)
	for i := range n {
		if w.seen[i] || !w.xs[i].enter {
			continue
		}
		start := len(w.out.pts)
		for k := int32(i); !w.seen[k]; {
			w.seen[k] = true
			leave := w.nextField[k]
			w.out.push(start, w.xs[k].at)
			w.runField(start, k, leave)
			w.out.push(start, w.xs[leave].at)
			k = w.nextSoil[leave]
			w.runSoil(start, leave, k)
		}
		w.out.close(start)
	}
}

// runField appends the field's points between crossing k and the next one. If that does not lie after k in the
// ring's order, the walk goes round its end (round the whole ring where there is no other crossing).
func (w *worker) runField(start int, k, next int32) {
	pts := w.field.pts
	from, to := w.xs[k].fe+1, w.xs[next].fe+1
	if next > k {
		w.out.run(start, pts[from:to])
		return
	}
	r := ringWith(w.field.rings, from-1)
	w.out.run(start, pts[from:r.start+r.n])
	w.out.run(start, pts[r.start:to])
}

// runSoil does the same along the survey polygon.
func (w *worker) runSoil(start int, k, next int32) {
	from, to := w.xs[k].se+1, w.xs[next].se+1
	if from < to || from == to && w.compareAlongSoil(&w.xs[k], &w.xs[next]) < 0 {
		w.soilPoints(start, from, to)
		return
	}
	r := ringWith(w.soil.rings, from-1)
	w.soilPoints(start, from, r.start+r.n)
	w.soilPoints(start, r.start, to)
}

func (w *worker) soilPoints(start int, from, to int32) {
	s := w.soil
	if s.wide != nil {
		w.out.run(start, s.wide.pts[from:to])
		return
	}
	if from == to {
		return
	}
	w.out.push(start, s.at(int(from)))
	ox, oy := s.origin.X, s.origin.Y
	out := w.out.pts
	for _, p := range s.pts[from+1 : to] {
		out = append(out, geo.Pt{X: ox + int64(p.x), Y: oy + int64(p.y)})
	}
	w.out.pts = out
}

// ringWith returns the ring that edge e belongs to.
func ringWith(rings []span, e int32) span {
	lo, hi := 0, len(rings)
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; rings[mid].start <= e {
			lo = mid
		} else {
			hi = mid
		}
	}
	return rings[lo]
}

// addUncrossed adds whole rings that are not crossed: field rings inside the polygon, and rings of the polygon inside
// the field. Holes come in as any other ring, by their direction.
func (w *worker) addUncrossed() {
	before := len(w.out.rings)
	k := 0
	for _, r := range w.field.rings {
		for k < len(w.xs) && w.xs[k].fe < r.start {
			k++
		}
		if (k == len(w.xs) || w.xs[k].fe >= r.start+r.n) && w.soil.inSoil(w.field.pts[r.start]) {
			start := len(w.out.pts)
			w.out.run(start, w.field.pts[r.start:r.start+r.n])
			w.out.close(start)
		}
	}
	w.whole = before+len(w.field.rings) == len(w.out.rings) && len(w.xs) == 0
	k = 0
	if w.soil.wide != nil {
		for _, r := range w.soil.rings {
			k = w.addSoilRing(r, k)
		}
		return
	}
	// A ring inside the field has its first chunk there, which is then among those near it. Of a polygon with hundreds
	// of holes most are far off, and not even their first points are looked at.
	end := int32(0) // of the last ring that was looked up, in points
	for _, c := range w.near[w.soil.nearFrom:w.soil.nearTo] {
		if first := c * chunk; first >= end {
			r := ringWith(w.soil.rings, first)
			if end = r.start + int32(padded(int(r.n)+1)); r.start == first {
				k = w.addSoilRing(r, k)
			}
		}
	}
}

// addSoilRing adds ring r of the survey polygon if it is not crossed and lies inside the field. Rings come in their
// order: crossings up to number k along the polygon lie on those before. It returns k for the next one.
func (w *worker) addSoilRing(r span, k int) int {
	for k < len(w.xs) && w.xs[w.bySoil[k]].se < r.start {
		k++
	}
	if k < len(w.xs) && w.xs[w.bySoil[k]].se < r.start+r.n {
		return k
	}
	if w.field.inField(w.soil.at(int(r.start)), w.soil.wide != nil) {
		start := len(w.out.pts)
		w.soilPoints(start, r.start, r.start+r.n)
		w.out.close(start)
		w.whole = false
	}
	return k
}

// outline is a list of closed rings, as they are traced.
type outline struct {
	pts   []geo.Pt
	rings []span
}

// push appends p to the ring that begins at start, unless it repeats the point before.
func (o *outline) push(start int, p geo.Pt) {
	if n := len(o.pts); n == start || o.pts[n-1] != p {
		o.pts = append(o.pts, p)
	}
}

// run appends points that are known not to repeat each other.
func (o *outline) run(start int, pts []geo.Pt) {
	if len(pts) > 0 {
		o.push(start, pts[0])
		o.pts = append(o.pts, pts[1:]...)
	}
}

// close ends the ring that begins at start. What has no three points has no ground, and goes.
func (o *outline) close(start int) {
	n := len(o.pts) - start
	for n > 1 && o.pts[start+n-1] == o.pts[start] {
		n--
	}
	if n < 3 {
		o.pts = o.pts[:start]
		return
	}
	o.pts = append(o.pts[:start+n], o.pts[start])
	o.rings = append(o.rings, span{int32(start), int32(n)})
}
