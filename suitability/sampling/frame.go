package sampling

import (
	"math"

	"github.com/paulmach/orb"
)

// frame is the local plane of a field: metres east and north of its middle. Distances within 2 km are true to better
// than one part in a thousand. Each field has its own: nothing is measured from one field to another.
type frame struct {
	origin         orb.Point
	perLon, perLat float64 // metres in a degree
}

// Semi-axis and eccentricity squared of WGS 84. Source: NGA.STND.0036, a = 6378137 m, 1/f = 298.257223563.
const (
	semiAxis   = 6378137.0
	flattening = 1 / 298.257223563
	e2         = flattening * (2 - flattening)
)

// frameAt returns the plane around a place.
//
//	metres per degree of latitude  = a (1-e²) / (1 - e² sin² lat)^1.5 × π/180
//	metres per degree of longitude = a cos lat / (1 - e² sin² lat)^0.5 × π/180
//
// Source: radii of curvature, Snyder 1987, USGS Professional Paper 1395, p. 24 f.; the tests compare with geodesics.
func frameAt(at orb.Point) frame {
	const degree = math.Pi / 180
	sin, cos := math.Sincos(at[1] * degree)
	w := 1 - e2*sin*sin
	return frame{at, semiAxis * cos / math.Sqrt(w) * degree, semiAxis * (1 - e2) / math.Pow(w, 1.5) * degree}
}

// in returns metres east and north of the origin.
func (f frame) in(p orb.Point) orb.Point {
	return orb.Point{(p[0] - f.origin[0]) * f.perLon, (p[1] - f.origin[1]) * f.perLat}
}

// out returns longitude and latitude with seven decimals, as every file has them.
func (f frame) out(p orb.Point) orb.Point {
	round := func(x float64) float64 { return math.Round(x*1e7) / 1e7 }
	return orb.Point{round(f.origin[0] + p[0]/f.perLon), round(f.origin[1] + p[1]/f.perLat)}
}

// edges are the lines around a shape in metres.
type edges []orb.Ring

// edges turns every ring, outer and inner alike: holds counts crossings and so needs no order among them.
func (f frame) edges(shape orb.MultiPolygon) (out edges) {
	for _, polygon := range shape {
		for _, ring := range polygon {
			r := make(orb.Ring, len(ring))
			for i, p := range ring {
				r[i] = f.in(p)
			}
			out = append(out, r)
		}
	}
	return out
}

// holds says whether a point lies within, by counting how many edges a line to the east crosses.
func (e edges) holds(p orb.Point) bool {
	in := false
	for _, r := range e {
		for i := 1; i < len(r); i++ {
			a, b := r[i-1], r[i]
			// Half open: a corner at the very height of the line counts as below it, so that a line through a corner crosses once, and one
			// that touches a peak twice or not at all.
			if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
				in = !in
			}
		}
	}
	return in
}

// clear says whether a point lies farther than reach from every edge.
func (e edges) clear(p orb.Point, reach float64) bool {
	for _, r := range e {
		for i := 1; i < len(r); i++ {
			// Squares are compared: this runs for every point of a lattice and every edge of the field.
			if squared(p, r[i-1], r[i]) <= reach*reach {
				return false
			}
		}
	}
	return true
}

// squared is the squared distance from a point to an edge.
func squared(p, a, b orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		// the foot of the perpendicular, kept on the edge; an edge without length is its one end
		t = min(1, max(0, ((p[0]-a[0])*dx+(p[1]-a[1])*dy)/l))
	}
	x, y := a[0]+t*dx-p[0], a[1]+t*dy-p[1]
	return x*x + y*y
}

// between is the distance of two points of a frame, metres.
func between(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
