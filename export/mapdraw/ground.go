package mapdraw

import (
	"math"

	"github.com/paulmach/orb"

	"rootworthy/export"
)

// ground is the local plane of one map: metres of longitude and latitude on the ellipsoid at the middle of what is
// drawn. North is up and true.
type ground struct {
	origin         orb.Point // middle, in degrees
	perLon, perLat float64   // metres in a degree
}

// Semi-axis and eccentricity of WGS 84. Source: NGA.STND.0036, a = 6378137 m, 1/f = 298.257223563.
const (
	semiAxis   = 6378137.0
	flattening = 1 / 298.257223563
)

// groundAt returns the plane around a place.
//
//	metres per degree of latitude  = a (1-e²) / (1 - e² sin² lat)^1.5 × π/180
//	metres per degree of longitude = a cos lat / (1 - e² sin² lat)^0.5 × π/180
//
// Source: radii of curvature in the meridian and the prime vertical, Snyder 1987, USGS Professional Paper 1395, p. 24
// f. Over a field of 2 km they change by less than one part in ten thousand.
func groundAt(at orb.Point) ground {
	const degree = math.Pi / 180
	e2 := flattening * (2 - flattening)
	sin, cos := math.Sincos(at[1] * degree)
	w := 1 - e2*sin*sin
	return ground{at, semiAxis * cos / math.Sqrt(w) * degree, semiAxis * (1 - e2) / math.Pow(w, 1.5) * degree}
}

// span returns the size of a box in metres.
func (g ground) span(b orb.Bound) (w, h float64) {
	return (b.Max[0] - b.Min[0]) * g.perLon, (b.Max[1] - b.Min[1]) * g.perLat
}

// view puts ground on a sheet.
type view struct {
	ground
	middle Point   // of the map on the sheet
	scale  float64 // units of the sheet in a metre
	free   sides   // columns beside the map
}

// at returns where a place stands on the sheet.
func (v view) at(p orb.Point) Point {
	return Point{v.middle.X + (p[0]-v.origin[0])*v.perLon*v.scale, v.middle.Y - (p[1]-v.origin[1])*v.perLat*v.scale}
}

// shape puts a shape on the sheet, its rings in the directions that files have; y is still up, so that they keep them.
func (v view) shape(mp orb.MultiPolygon) orb.MultiPolygon {
	// As the files have it, so that map and file agree about slivers.
	mp = export.Tidy(mp)
	out := make(orb.MultiPolygon, len(mp))
	for i, p := range mp {
		out[i] = make(orb.Polygon, len(p))
		for j, r := range p {
			out[i][j] = make(orb.Ring, len(r))
			for k, q := range r {
				at := v.at(q)
				out[i][j][k] = orb.Point{at.X, -at.Y}
			}
		}
	}
	return out
}

// boxOf returns the box of several shapes; ok is false where there is nothing.
func boxOf(shapes []orb.MultiPolygon) (b orb.Bound, ok bool) {
	for _, s := range shapes {
		if len(s) == 0 {
			continue
		}
		if !ok {
			b, ok = s.Bound(), true
			continue
		}
		b = b.Union(s.Bound())
	}
	return b, ok
}
