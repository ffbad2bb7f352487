package overlay

import (
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// figure is a set of rings in grid coordinates, boxed in chunks: a field, or a survey polygon too wide for
// offsets. Its slices are used again for the next field.
type figure struct {
	pts    []geo.Pt
	rings  []span
	outer  []bool    // of each ring: an outer one, which runs counterclockwise, or a hole
	boxes  []geo.Box // of chunk i: points i<<shift … (i+1)<<shift
	edges  []uint8   // number of edges in chunk i
	grid   raster    // over box
	coarse []coarse  // of each chunk
	shift  uint      // 3 for chunks of eight edges; 0 for one edge each
	box    geo.Box
	wide   bool // wider than 64-bit predicates allow
	bad    bool // a coordinate is no number or off the grid
	area   geo.Int128
}

// fewPoints is up to how many points a figure is boxed edge by edge. The box around eight edges of a quarter section
// is the whole quarter section and would hold off nothing.
const fewPoints = 28

func (f *figure) reset() {
	f.pts, f.rings, f.outer = f.pts[:0], f.rings[:0], f.outer[:0]
	f.area, f.bad = geo.Int128{}, false
}

// load snaps shape, turns its outer rings counterclockwise and its holes clockwise, and boxes them.
func (f *figure) load(shape orb.MultiPolygon) {
	f.reset()
	off := uint64(0)
	for _, part := range shape {
		for i, ring := range part {
			start := f.begin(len(ring))
			pts := f.pts[start : start+len(ring)+1]
			n := 0
			var area, px, py int64
			for k := range ring {
				x, y := snapFast(ring[k][0]), snapFast(ring[k][1])
				if x == px && y == py && n > 0 {
					continue
				}
				off |= uint64(x+gridLimit) | uint64(y+gridLimit)
				area += (px + x) * (y - py)
				pts[n] = geo.Pt{X: x, Y: y}
				px, py = x, y
				n++
			}
			if n > 0 { // the sum began at the origin: take that step off, and close the ring
				x, y := pts[0].X, pts[0].Y
				area += (px+x)*(y-py) - x*y
			}
			f.end(start, n, i == 0, area)
		}
	}
	f.bad = off >= 2*gridLimit
	f.finish()
}

// loadParts does the same for polygons on the grid, outer ring first in each.
func (f *figure) loadParts(parts []arrange.Polygon) {
	f.reset()
	for _, part := range parts {
		for i, ring := range part {
			start := f.begin(len(ring))
			n := copy(f.pts[start:start+len(ring)], ring)
			f.end(start, n, i == 0, int64(geo.DoubledArea(ring).Lo))
		}
	}
	f.finish()
}

// begin makes room for a ring of n points and its closing point, at a multiple of chunk.
func (f *figure) begin(n int) (start int) {
	start = len(f.pts)
	need := start + padded(n+1)
	for cap(f.pts) < need {
		f.pts = append(f.pts[:cap(f.pts)], geo.Pt{})
	}
	f.pts = f.pts[:need]
	return start
}

// end closes the ring of n points that was written at start and turns it the right way. A ring without ground is
// dropped; one of zero area may still have two lobes and is kept.
//
// area is twice the ring's area, summed in 64 bits that wrap. If the ring is narrow the true sum is less than 2^62, so
// that is the sum, whatever the products did on the way; if not, finish puts it right.
func (f *figure) end(start, n int, outer bool, area int64) {
	pts := f.pts[start:]
	for n > 1 && pts[n-1] == pts[0] {
		n--
	}
	if n < 3 {
		f.pts = f.pts[:start]
		return
	}
	if area < 0 == outer {
		slices.Reverse(pts[:n])
		area = -area
	}
	f.addRing(start, n, outer)
	f.area = f.area.Add(geo.Wide(area))
}

// addRing takes in the ring of n points that was written at start as it is.
func (f *figure) addRing(start, n int, outer bool) {
	f.pts[start+n] = f.pts[start]
	f.rings = append(f.rings, span{int32(start), int32(n)})
	f.outer = append(f.outer, outer)
	f.pts = f.pts[:start+padded(n+1)]
}

// finish boxes what was loaded. Chunks without edges, at the end of some rings, get a box that meets nothing.
func (f *figure) finish() {
	f.shift = 3
	if len(f.pts) <= fewPoints {
		f.shift = 0
	}
	f.boxRings()
	if f.wide = len(f.rings) > 0 && wideBox(&f.box); f.wide {
		f.turnWide()
		f.boxRings()
	}
	f.grid = rasterOver(&f.box)
	f.coarse = roomFor(f.coarse[:0], len(f.boxes))
	for i := range f.boxes {
		b := &f.boxes[i]
		f.coarse[i] = noCoarse
		if f.edges[i] > 0 {
			f.coarse[i] = f.grid.box(b.X0, b.Y0, b.X1, b.Y1)
		}
	}
}

func (f *figure) boxRings() {
	f.boxes, f.edges, f.box = f.boxes[:0], f.edges[:0], geo.NoBox()
	step := 1 << f.shift
	for _, r := range f.rings {
		pts := f.ring(r)
		first, m := len(f.boxes), padded(len(pts))>>f.shift
		f.boxes, f.edges = roomFor(f.boxes, m), roomFor(f.edges, m)
		boxes := f.boxes[first:]
		edges := f.edges[first:][:len(boxes)]
		for i := range boxes {
			b, k := geo.NoBox(), max(0, min(step, len(pts)-1))
			if k > 0 {
				b = pointBox(pts[:k+1])
				f.box.Grow(b)
				pts = pts[k:]
			}
			boxes[i], edges[i] = b, uint8(k)
		}
	}
}

// turnWide turns rings too wide for 64 bits the right way, and sums their areas.
func (f *figure) turnWide() {
	f.area = geo.Int128{}
	for i, r := range f.rings {
		ring := f.ring(r)
		area := geo.DoubledArea(ring)
		if area.Sign() < 0 == f.outer[i] {
			slices.Reverse(ring)
			area = area.Neg()
		}
		f.area = f.area.Add(area)
	}
}

// ring returns the points of ring r, the first one repeated at the end.
func (f *figure) ring(r span) []geo.Pt { return f.pts[r.start : r.start+r.n+1] }

// pointBox bounds pts, of which there is at least one.
func pointBox(pts []geo.Pt) geo.Box {
	p := pts[0]
	x0, y0, x1, y1 := p.X, p.Y, p.X, p.Y
	for _, p := range pts[1:] {
		x0, x1 = min(x0, p.X), max(x1, p.X)
		y0, y1 = min(y0, p.Y), max(y1, p.Y)
	}
	return geo.Box{X0: x0, Y0: y0, X1: x1, Y1: y1}
}
