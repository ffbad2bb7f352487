package overlay

import (
	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// figure is a set of rings in grid coordinates, boxed in chunks: a field, or a survey polygon too wide for
// offsets. Its slices are used again for the next field.
type figure struct {
	pts   []geo.Pt
	rings []span
	boxes []geo.Box // of chunk i: points i<<shift … (i+1)<<shift
	edges []uint8   // number of edges in chunk i
	shift uint      // 3 for chunks of eight edges; 0 for one edge each
	box   geo.Box
	wide  bool // wider than 64-bit predicates allow
	bad   bool // a coordinate is no number or off the grid
	area  geo.Int128
}

// fewPoints is up to how many points a figure is boxed edge by edge. The box around eight edges of a quarter section
// is the whole quarter section and would hold off nothing.
const fewPoints = 28

func (f *figure) reset() {
	f.pts, f.rings = f.pts[:0], f.rings[:0]
	f.bad = false
}

// load snaps shape, turns its outer rings counterclockwise and its holes clockwise, and boxes them.
func (f *figure) load(shape orb.MultiPolygon) {
	f.reset()
	for _, part := range shape {
		for i, ring := range part {
			start := f.begin(len(ring))
			pts := f.pts[start : start+len(ring)+1]
			n := 0
			for _, v := range ring {
				p := geo.Pt{X: snapFast(v[0]), Y: snapFast(v[1])}
				f.bad = f.bad || !onGrid(p.X) || !onGrid(p.Y)
				if n == 0 || pts[n-1] != p {
					pts[n] = p
					n++
				}
			}
			f.end(start, n, i == 0)
		}
	}
	f.finish()
}

// loadParts does the same for polygons on the grid, outer ring first in each.
func (f *figure) loadParts(parts []arrange.Polygon) {
	f.reset()
	for _, part := range parts {
		for i, ring := range part {
			start := f.begin(len(ring))
			f.end(start, copy(f.pts[start:start+len(ring)], ring), i == 0)
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
func (f *figure) end(start, n int, outer bool) {
	pts := f.pts[start:]
	for n > 1 && pts[n-1] == pts[0] {
		n--
	}
	if n < 3 {
		f.pts = f.pts[:start]
		return
	}
	pts[n] = pts[0]
	if ringArea(pts[:n+1]).Sign() < 0 == outer {
		for i, j := 0, n; i < j; i, j = i+1, j-1 {
			pts[i], pts[j] = pts[j], pts[i]
		}
	}
	f.rings = append(f.rings, span{int32(start), int32(n)})
	f.pts = f.pts[:start+padded(n+1)]
}

// finish boxes what was loaded.
func (f *figure) finish() {
	f.shift = 3
	if len(f.pts) <= fewPoints {
		f.shift = 0
	}
	f.boxes, f.edges = f.boxes[:0], f.edges[:0]
	f.box, f.area = geo.NoBox(), geo.Int128{}
	step := 1 << f.shift
	for _, r := range f.rings {
		start, n := int(r.start), int(r.n)
		for i := 0; i < padded(n+1); i += step {
			k := max(0, min(step, n-i))
			b := geo.Box{X0: 1, X1: 0}
			if k > 0 {
				b = pointBox(f.pts[start+i : start+i+k+1])
				f.box.Grow(b)
			}
			f.boxes, f.edges = append(f.boxes, b), append(f.edges, uint8(k))
		}
		f.area = f.area.Add(ringArea(f.pts[start : start+n+1]))
	}
	f.wide = len(f.rings) > 0 && wideBox(&f.box)
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

// ringArea returns twice the signed area of a closed ring. When its box is narrow the sum is less than 2^62, so 64 bits
// that wrap give it exactly, whatever the products did on the way.
func ringArea(pts []geo.Pt) geo.Int128 {
	var sum int64
	lo, hi := pts[0], pts[0]
	for i := 1; i < len(pts); i++ {
		p, q := pts[i-1], pts[i]
		sum += p.X*q.Y - q.X*p.Y
		lo, hi = geo.Pt{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}, geo.Pt{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
	}
	if hi.X-lo.X > wideSpan || hi.Y-lo.Y > wideSpan {
		return geo.DoubledArea(pts)
	}
	return geo.Wide(sum)
}
