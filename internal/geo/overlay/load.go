package overlay

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// filler puts polygons into slabs, one after the other.
type filler struct {
	slab *slab // the one being filled
	own  slab  // the memory of the shape being taken
}

// add returns a new polygon, and m if it is too wide for a slab.
func (f *filler) add(key uint32, shape orb.MultiPolygon) (p polygon, m *mended, err error) {
	points, _ := paddedPoints(shape)
	p = polygon{key: key, box: geo.NoBox()}
	if points == 0 {
		return p, nil, nil
	}
	p.slab = f.slabFor(points)
	if at := p.load(p.slab, shape); at.stopped {
		p.slab.reset(p.from)
		return loadWide(key, shape)
	}
	return p, nil, nil
}

// take does the same with a shape that is given away. Shapes with few points, or with more in their holes than around
// them, do not fit into their own outer ring and are added.
func (f *filler) take(key uint32, shape orb.MultiPolygon) (p polygon, m *mended, err error) {
	points, rings := paddedPoints(shape)
	if points == 0 || len(shape[0]) == 0 {
		return f.add(key, shape)
	}
	first, size := memoryOf(shape[0][0])
	if ownSize(points, rings) > size {
		return f.add(key, shape)
	}
	p = polygon{key: key, box: geo.NoBox(), own: first, room: uint32(points), ringRoom: uint32(rings)}
	f.own = ownSlab(first, points, rings)
	if at := p.load(&f.own, shape); at.stopped {
		return loadWide(key, p.restored(&f.own, shape, at))
	}
	return p, nil, nil
}

// loadWide returns a polygon with coordinates that do not fit into a slab, or an error if they fit nowhere.
func loadWide(key uint32, shape orb.MultiPolygon) (p polygon, m *mended, err error) {
	p = polygon{key: key, box: geo.NoBox()}
	parts, err := snapParts(shape)
	if err != nil {
		return p, nil, err
	}
	m = newMended(parts)
	p = m.place
	p.key = key
	if m.figure == nil {
		return p, nil, nil
	}
	p.box = m.box
	return p, m, nil
}

// slabFor returns a slab with room for that many points: the one being filled, a new one, or for a large polygon one of
// its own, so that little is left empty.
func (f *filler) slabFor(points int) *slab {
	if f.slab != nil && f.slab.room(points) {
		return f.slab
	}
	size := firstSlab
	if f.slab != nil {
		size = min(2*cap(f.slab.pts), lastSlab)
	}
	if 4*points > size {
		return newSlab(points)
	}
	f.slab = newSlab(size)
	return f.slab
}

// paddedPoints returns how much of a slab shape may take. There is room to close every ring, for whether it is closed
// stands at its far end, in memory that is not at hand before the ring has been read.
func paddedPoints(shape orb.MultiPolygon) (points, rings int) {
	for _, part := range shape {
		for _, ring := range part {
			if len(ring) > 0 {
				points += padded(len(ring) + 1)
				rings++
			}
		}
	}
	return points, rings
}

// stop is where loading a polygon stopped because it has no place in a slab: a coordinate is off the grid, or the whole
// is too wide for offsets.
type stop struct {
	stopped bool
	first   bool // in the first ring
	point   int  // of it, if so
	written int  // points of the first ring that have been written, without repeated ones
}

// load snaps all rings of shape into s.
func (p *polygon) load(s *slab, shape orb.MultiPolygon) (at stop) {
	p.from = s.mark()
	first := true
	for _, part := range shape {
		for i, ring := range part {
			if len(ring) == 0 {
				continue
			}
			if first {
				// Offsets are counted from far to the lower left, so that they are not negative.
				x, y := snapFast(ring[0][0]), snapFast(ring[0][1])
				p.origin = geo.Pt{X: x - wideSpan, Y: y - wideSpan}
				if !onGrid(x) || !onGrid(y) {
					return stop{stopped: true, first: true}
				}
			}
			n, point := p.loadRing(s, ring, i == 0)
			if first {
				at.written = n
			}
			if point < len(ring) {
				at.stopped, at.first, at.point = true, first, point
				return at
			}
			first = false
		}
	}
	p.to = s.mark()
	if p.from.rings == p.to.rings {
		p.slab, p.own = nil, nil
		return stop{}
	}
	b := s.addSupers(p.from)
	p.to = s.mark()
	p.box = geo.Box{X0: p.origin.X + int64(b.x0), Y0: p.origin.Y + int64(b.y0), X1: p.origin.X + int64(b.x1), Y1: p.origin.Y + int64(b.y1)}
	at.stopped = wideBox(&p.box)
	return at
}

// loadRing snaps one ring: repeated points go, the end is joined to the beginning, an outer ring is turned to run
// counterclockwise and a hole clockwise. A ring of one or two points has no ground and is left out. One whose
// area is zero is kept: a bow-tie has two lobes all the same, and whoever uses the polygon will find out.
//
// It returns how many points were written, and the first point that does not fit (else len(ring)).
func (p *polygon) loadRing(s *slab, ring orb.Ring, outer bool) (n, point int) {
	start := len(s.pts)
	pts := s.pts[start:min(start+len(ring)+1, cap(s.pts))]
	n, point = snapOffsets(pts[:len(ring)], ring, uint64(p.origin.X+snapBias), uint64(p.origin.Y+snapBias))
	if point < len(ring) {
		return n, point
	}
	if n > 1 && pts[n-1] == pts[0] {
		n--
	}
	if n < 3 {
		return n, point
	}
	pts[n] = pts[0]
	if s.addRing(p.from, start, n) < 0 == outer {
		slices.Reverse(pts[:n+1])
		s.boxAgain(start, n)
	}
	return n, point
}

// snapOffsets puts the points of ring, less repeated ones, into pts as offsets from an origin, and returns how many there
// are, and the first point that is no number or does not fit (else len(ring)). pts may lie in the first half of ring.
// As in roundFast, the number's bits are read as a whole number; the origin comes with snapBias in it.
func snapOffsets(pts []offset, ring orb.Ring, ox, oy uint64) (n, point int) {
	last := uint64(1) << 63
	for i := range ring {
		x := math.Float64bits(float64(ring[i][0]*(1/geo.PlaneStep))+snapMagic) - ox
		y := math.Float64bits(float64(ring[i][1]*(1/geo.PlaneStep))+snapMagic) - oy
		if (x|y)>>31 != 0 {
			return n, i
		}
		if w := x | y<<32; w != last {
			pts[n] = offset{int32(x), int32(y)}
			last = w
			n++
		}
	}
	return n, len(ring)
}

// restored returns a shape that was being taken, with its first ring as it was: points that have been written over are
// worked out from what was written, and repeated ones set again.
func (p *polygon) restored(s *slab, shape orb.MultiPolygon, at stop) orb.MultiPolygon {
	shape = slices.Clone(shape)
	shape[0] = slices.Clone(shape[0])
	was, ring := shape[0][0], orb.Ring{}
	switch {
	case at.first:
		ring = appendMetres(ring, p.origin, s.pts[:at.written])
		for len(ring) > 0 && len(ring) < at.point {
			ring = append(ring, ring[len(ring)-1])
		}
		ring = append(ring, was[at.point:]...)
	case at.written >= 3:
		ring = appendMetres(ring, p.origin, s.pts[:s.rings[0].n+1])
	}
	shape[0][0] = ring
	return shape
}

func appendMetres(ring orb.Ring, origin geo.Pt, pts []offset) orb.Ring {
	for _, o := range pts {
		ring = append(ring, orb.Point{toMetres(origin.X + int64(o.x)), toMetres(origin.Y + int64(o.y))})
	}
	return ring
}

// wideSpan is 107 km in grid units. Two points of boxes that meet, each at most this wide, differ by at most 2^31, and
// an edge of either by at most 2^30: all products of predicates fit in 64 bits with a bit to spare.
const wideSpan = 1<<30 - 1

func wideBox(b *geo.Box) bool { return b.X1-b.X0 > wideSpan || b.Y1-b.Y0 > wideSpan }

// snapParts snaps any shape that is on the grid at all, ring by ring, without their closing points.
func snapParts(shape orb.MultiPolygon) ([]arrange.Polygon, error) {
	parts := make([]arrange.Polygon, len(shape))
	for k, part := range shape {
		for _, ring := range part {
			var pts []geo.Pt
			for i, v := range ring {
				p := geo.Pt{X: snapFast(v[0]), Y: snapFast(v[1])}
				if !onGrid(p.X) || !onGrid(p.Y) {
					return nil, fmt.Errorf("point %d of a ring lies at (%g, %g) m; a coordinate must be a number within 1e11 m of the origin", i+1, v[0], v[1])
				}
				if len(pts) == 0 || pts[len(pts)-1] != p {
					pts = append(pts, p)
				}
			}
			parts[k] = append(parts[k], pts)
		}
	}
	return parts, nil
}
