package overlay

import "rootworthy/internal/geo"

// A point is inside if a ray from it to the right crosses the boundary an odd number of times, or as well one to the
// left. Which of two vertices an edge's end belongs to, and on which side of the edge the point lies, is decided with the
// field moved by (ε, ε²) as in side.go: a survey vertex is above a field point only if its Y is greater, a field vertex is
// above a survey point even if equal.
//
// A chunk wholly above, below or behind the point is passed over. One wholly ahead of it is crossed an odd number
// of times if its first and last points lie on different sides of the ray: only chunks that the point is
// level with and within are looked at edge by edge.

// inSoil says whether field point p lies in the survey polygon. The ray goes to the nearer side of the polygon's box,
// where there is less to cross. No point lies on an edge, as the field is moved; so each edge level with the point is
// either to the right of it or to the left, and both rays give the same answer: a closed boundary goes up as often as
// down.
func (s *soil) inSoil(p geo.Pt) bool {
	if !s.box.Holds(p) {
		return false
	}
	if s.wide != nil {
		return s.wide.crossedRight(p, 1, true)
	}
	// Inside the box offsets fit; p moved to the origin costs less than moving all the points.
	r := rayFrom(offset{int32(p.X - s.origin.X), int32(p.Y - s.origin.Y)}, p.X-s.box.X0 < s.box.X1-p.X)
	return s.crossed(&r)
}

// crossed says whether the polygon's edges cross r an odd number of times.
func (s *soil) crossed(r *ray) bool {
	odd := false
	for i := range s.supers {
		if r.over.meets(&s.supers[i]) == 0 {
			continue
		}
		first := i * superChunk
		boxes := s.boxes[first:min(first+superChunk, len(s.boxes))]
		for k := range boxes {
			if r.over.meets(&boxes[k]) != 0 && s.chunkCrossed(first+k, r) {
				odd = !odd
			}
		}
	}
	return odd
}

// ray runs from a point to the right, or to the left.
type ray struct {
	at   offset
	left bool
	over pane // whose boxes may cross it
}

// rayFrom returns a ray from q. Of what crosses it something lies above q, that is one unit higher at least, and
// something not above: a box is over the ray if its top is not below the one height and its foot not above the other. A pane
// that is upside down asks just that.
func rayFrom(q offset, left bool) ray {
	over := offbox{q.x, q.y + 1, 1<<31 - 1, q.y}
	if left {
		over.x0, over.x1 = 0, q.x
	}
	return ray{q, left, over.pane()}
}

// chunkCrossed says whether the edges of chunk c, which r does not miss, cross it an odd number of times.
func (s *soil) chunkCrossed(c int, r *ray) bool {
	pts := s.pts[c*chunk : c*chunk+int(s.edges[c])+1]
	if len(pts) == 1 {
		return false
	}
	q := r.at
	if b := &s.boxes[c]; r.left && b.x1 < q.x || !r.left && b.x0 > q.x { // all of it is ahead
		return pts[0].y > q.y != (pts[len(pts)-1].y > q.y)
	}
	odd := false
	p := geo.Pt{X: int64(q.x), Y: int64(q.y)}
	for i := 1; i < len(pts); i++ {
		u, v := pts[i-1], pts[i]
		if up := v.y > q.y; u.y > q.y != up {
			a, b := geo.Pt{X: int64(u.x), Y: int64(u.y)}, geo.Pt{X: int64(v.x), Y: int64(v.y)}
			right := fieldLeft(a, b, p, false) == up // an edge that goes up with p to its left lies to the right of p
			odd = odd != (right != r.left)
		}
	}
	return odd
}

// inField says whether survey point p lies in the field.
func (f *figure) inField(p geo.Pt, wide bool) bool {
	return f.box.Holds(p) && f.crossedRight(p, 0, wide)
}

// crossedRight counts crossings to the right of p. above is 1 when f is a survey polygon and p a field point: vertices
// of p's own height then lie below; and 0 the other way round.
func (f *figure) crossedRight(p geo.Pt, above int64, wide bool) bool {
	in := false
	level := p.Y + above // a vertex is above if its Y is at least this
	for c := range f.boxes {
		if b := &f.boxes[c]; b.Y1 < level || b.Y0 >= level || b.X1 < p.X {
			continue
		}
		first := c << f.shift
		for i := first; i < first+int(f.edges[c]); i++ {
			a, b := f.pts[i], f.pts[i+1]
			if up := b.Y >= level; a.Y >= level != up {
				o := orient(a, b, p, wide)
				// tie(a, b) is for a moved p; where f moved instead, it turns round.
				left := o > 0 || o == 0 && tie(a, b) == (above == 1)
				in = in != (left == up)
			}
		}
	}
	return in
}
