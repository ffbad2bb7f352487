package proj

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/tidwall/geodesic"
)

// GeodesicOptions tunes [GeodesicArea]; the zero value takes edges as geodesics.
type GeodesicOptions struct {
	// Step is the longest piece, in metres, into which edges straight in longitude and latitude are cut before each
	// piece is taken as a geodesic; 0 leaves edges whole. At 5 m the area is that of the lon/lat edges to about 1e-10.
	Step float64
}

// maxPieces bounds how finely one edge is cut, for edges across a continent.
const maxPieces = 1 << 16

// GeodesicArea returns the area in square metres of polygons of longitudes and latitudes (degrees) on the WGS 84
// ellipsoid itself, holes taken off; the first ring of a polygon is its shell, ring orientation does not matter. No
// projection takes part: it is the second opinion on areas from a [Plane]. ok is false when a vertex is no place on
// Earth.
//
// Source: Karney, Algorithms for geodesics, J. Geodesy 87 (2013), through github.com/tidwall/geodesic.
func GeodesicArea(mp orb.MultiPolygon, opt GeodesicOptions) (m2 float64, ok bool) {
	for _, poly := range mp {
		for i, ring := range poly {
			a, ok := geodesicRing(ring, opt.Step)
			if !ok {
				return 0, false
			}
			if i > 0 {
				a = -a
			}
			m2 += a
		}
	}
	return m2, true
}

// geodesicRing returns the area of one ring, never negative.
func geodesicRing(ring orb.Ring, step float64) (m2 float64, ok bool) {
	g := geodesic.WGS84.PolygonInit(false)
	for i, v := range ring {
		if !onEarth(v[0], v[1]) {
			return 0, false
		}
		if i > 0 {
			addCuts(&g, ring[i-1], v, step)
		}
		if i < len(ring)-1 || v != ring[0] { // the closing vertex is understood
			g.AddPoint(v[1], v[0])
		}
	}
	if len(ring) < 3 {
		return 0, true
	}
	g.Compute(false, true, &m2, nil)
	return math.Abs(m2), finite(m2, 0)
}

// addCuts adds the inner points of an edge cut into equal pieces no longer than step metres.
func addCuts(g *geodesic.Polygon, a, b orb.Point, step float64) {
	if !(step > 0) {
		return
	}
	long := math.Hypot((b[0]-a[0])*math.Cos(middle(a, b)[1]*degree), b[1]-a[1]) * degree * meanRadius
	n := int(math.Min(math.Ceil(long/step), maxPieces))
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		g.AddPoint(a[1]+t*(b[1]-a[1]), a[0]+t*(b[0]-a[0]))
	}
}
