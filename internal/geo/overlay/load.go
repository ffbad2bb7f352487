package overlay

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// filler puts polygons into slabs, one after the other.
type filler struct {
	slab   *slab // the one being filled
	expect int   // points still to come, padding included; 0 if nobody knows
}

// add returns a new polygon, and m if it is too wide for a slab.
func (f *filler) add(key uint32, shape orb.MultiPolygon) (p polygon, m *mended, err error) {
	points := paddedPoints(shape)
	p = polygon{key: key, box: geo.NoBox()}
	if points == 0 {
		return p, nil, nil
	}
	p.slab = f.slabFor(points)
	p.from = p.slab.mark()
	if p.load(shape) {
		return p, nil, nil
	}
	p.slab.reset(p.from)
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

func (f *filler) slabFor(points int) *slab {
	if f.slab == nil || !f.slab.room(points) {
		size := firstSlab
		switch {
		case f.expect > 0:
			size = min(f.expect, lastSlab)
		case f.slab != nil:
			size = min(2*cap(f.slab.pts), lastSlab)
		}
		f.slab = newSlab(max(size, points))
	}
	f.expect = max(0, f.expect-points)
	return f.slab
}

// paddedPoints returns how much of a slab shape may take.
func paddedPoints(shape orb.MultiPolygon) (n int) {
	for _, part := range shape {
		for _, ring := range part {
			n += padded(len(ring) + 1)
		}
	}
	return n
}

// load snaps all rings of shape into the slab. It returns false if a coordinate is off the grid or the polygon is too
// wide for offsets.
func (p *polygon) load(shape orb.MultiPolygon) bool {
	first := true
	for _, part := range shape {
		for i, ring := range part {
			if len(ring) == 0 {
				continue
			}
			if first {
				p.origin = geo.Pt{X: snapFast(ring[0][0]), Y: snapFast(ring[0][1])}
				first = false
			}
			if !p.loadRing(ring, i == 0) {
				return false
			}
		}
	}
	p.to = p.slab.mark()
	if p.from.rings == p.to.rings {
		p.slab = nil
		return true
	}
	b := p.slab.addSupers(p.from)
	p.to = p.slab.mark()
	p.box = geo.Box{X0: p.origin.X + int64(b.x0), Y0: p.origin.Y + int64(b.y0), X1: p.origin.X + int64(b.x1), Y1: p.origin.Y + int64(b.y1)}
	return onGrid(p.origin.X) && onGrid(p.origin.Y) && !wideBox(&p.box)
}

// loadRing snaps one ring: repeated points go, the end is joined to the beginning, an outer ring is turned to run
// counterclockwise and a hole clockwise. A ring of one or two points has no ground and is left out. One whose
// area is zero is kept: a bow-tie has two lobes all the same, and whoever uses the polygon will find out.
func (p *polygon) loadRing(ring orb.Ring, outer bool) bool {
	s := p.slab
	start := len(s.pts)
	pts := s.pts[start : start+len(ring)+1]
	n, fits := snapOffsets(pts, ring, p.origin)
	if !fits {
		return false
	}
	if n > 1 && pts[n-1] == pts[0] {
		n--
	}
	if n < 3 {
		return true
	}
	pts[n] = pts[0]
	if s.addRing(p.from, start, n) < 0 == outer {
		slices.Reverse(pts[:n+1])
		s.boxAgain(start, n)
	}
	return true
}

// snapOffsets puts the points of ring, less repeated ones, into pts as offsets from origin, and returns how many there
// are. fits is false if one of them is no number or does not fit.
func snapOffsets(pts []offset, ring orb.Ring, origin geo.Pt) (n int, fits bool) {
	// Offsets lie in ±2^30. Shifted up by that they fill 31 bits, and higher bits tell of those that do not fit.
	const up = 1 << 30
	ox, oy := origin.X-up, origin.Y-up
	var all int64
	px, py := int64(-1), int64(-1)
	for i := range ring {
		x, y := snapFast(ring[i][0])-ox, snapFast(ring[i][1])-oy
		if x == px && y == py {
			continue
		}
		px, py = x, y
		all |= x | y
		pts[n] = offset{int32(x - up), int32(y - up)}
		n++
	}
	return n, all>>31 == 0
}

// wideSpan is 107 km in grid units. Two points of boxes that meet, each at most this wide, differ by at most 2^31, and
// an edge of either by at most 2^30: all products of predicates fit in 64 bits with a bit to spare.
const wideSpan = 1 << 30

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
