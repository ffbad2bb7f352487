package proj

import "math"

// ellipsoid is a figure of the Earth: equatorial radius in metres and flattening; the rest is derived.
type ellipsoid struct {
	a  float64 // equatorial radius, m
	f  float64 // flattening; 0 for a sphere
	e2 float64 // first eccentricity squared, f(2 - f)
	e  float64 // first eccentricity
}

// newEllipsoid makes an ellipsoid from its radius in metres and inverse flattening; 0 means a sphere, as in WKT.
func newEllipsoid(a, inverseF float64) ellipsoid {
	if inverseF == 0 {
		return ellipsoid{a: a}
	}
	f := 1 / inverseF
	e2 := f * (2 - f)
	return ellipsoid{a: a, f: f, e2: e2, e: math.Sqrt(e2)}
}

// The figures that coordinates are read on.
//
// Source: EPSG Geodetic Parameter Dataset, ellipsoids 7030, 7019 and 7008 (read through PROJ 9.1.1). The first two share the
// radius; their polar radii differ by 0.1 mm, and the area of a field by less than 4e-11 of itself. Clarke's figure of 1866 is
// defined by both its radii, 6378206.4 and 6356583.8 m; the third is the inverse flattening that they give.
func wgs84() ellipsoid { return newEllipsoid(6378137, 298.257223563) }
func grs80() ellipsoid { return newEllipsoid(6378137, 298.257222101) }
func clarke1866() ellipsoid {
	return newEllipsoid(6378206.4, 6378206.4/(6378206.4-6356583.8))
}

// eatanhe returns e·atanh(e·s), the term by which latitudes of an ellipsoid differ from those of a sphere; s is the
// sine of a latitude, -1..1.
func (el ellipsoid) eatanhe(s float64) float64 { return el.e * math.Atanh(el.e*s) }

// parallelRadius returns the radius of a parallel as a fraction of a: cos φ / √(1 - e² sin² φ).
//
// Source: Snyder, Map Projections: A Working Manual, USGS PP 1395 (1987), eq. 14-15.
func (el ellipsoid) parallelRadius(phi float64) float64 {
	s, c := math.Sincos(phi)
	return c / math.Sqrt(1-el.e2*s*s)
}
