package proj

import (
	"fmt"
	"math"
)

// shift is a published operation that brings longitudes and latitudes of an older datum to WGS 84 by moving the origin of
// geocentric coordinates. The zero value is "none is needed".
type shift struct {
	code                     int     // EPSG code of the operation
	name                     string  // as EPSG writes it
	dx, dy, dz               float64 // m, added on the way to WGS 84
	accuracy                 float64 // m, as EPSG gives it
	place                    string  // area of use, for people
	south, north, west, east float64 // the same in degrees
}

// conusShift brings NAD27 to WGS 84 in the conterminous United States. One operation for all of them: the finer ones for
// the east and the west of the Mississippi (EPSG:1174, 11 m, and 1175, 7 m) would put a step of metres into a raster that
// lies across the river.
//
// Source: EPSG Geodetic Parameter Dataset, operation 1173 with extent 1323 (read through PROJ 9.1.1): method 9603,
// geocentric translations in the geographic 2D domain; derived at 405 stations, 5, 5 and 6 m in X, Y and Z, 10 m in all.
func conusShift() shift {
	return shift{code: 1173, name: "NAD27 to WGS 84 (4)", dx: -8, dy: 160, dz: 176, accuracy: 10,
		place: "the conterminous United States", south: 24.41, north: 49.38, west: -124.79, east: -66.91}
}

// note is what a report has to say of a system that needs it, behind the datum's name and "is".
func (s shift) note() string {
	return fmt.Sprintf("brought to WGS 84 by one shift for all of %s (EPSG:%d, %s), good to about %g m", s.place, s.code, s.name, s.accuracy)
}

// covers tells whether longitude and latitude in radians lie in the area of use. EPSG gives its corners to hundredths of a
// degree, a kilometre: on which datum they are meant does not matter.
func (s shift) covers(lon, lat float64) bool {
	lon, lat = lon/degree, lat/degree
	return lon >= s.west && lon <= s.east && lat >= s.south && lat <= s.north
}

// shifted is a projection on an older datum, seen from WGS 84. As a projection of its own it leaves the way of all others as
// it is, and as short.
//
// Both ways take places as lying on the ellipsoid they come from, which is what EPSG means by the 2D domain and what PROJ
// does. The ellipsoids lie some tens of metres apart and their normals at some seconds, so that a place that goes there and
// back misses itself by less than a millimetre, which the tests hold.
type shifted struct {
	on   projection // in radians of the older datum
	el   ellipsoid  // of the older datum
	wgs  ellipsoid
	move shift
}

func (p shifted) forward(lon, lat float64) (x, y float64, ok bool) {
	if !p.move.covers(lon, lat) {
		return 0, 0, false
	}
	lon, lat = moved(p.wgs, p.el, lon, lat, -p.move.dx, -p.move.dy, -p.move.dz)
	return p.on.forward(lon, lat)
}

func (p shifted) inverse(x, y float64) (lon, lat float64, ok bool) {
	if lon, lat, ok = p.on.inverse(x, y); !ok {
		return 0, 0, false
	}
	lon, lat = moved(p.el, p.wgs, lon, lat, p.move.dx, p.move.dy, p.move.dz)
	return lon, lat, p.move.covers(lon, lat)
}

// unprojected leaves longitude and latitude in radians as they are: what a geographic system that needs a shift stands on.
type unprojected struct{}

func (unprojected) forward(lon, lat float64) (x, y float64, ok bool) { return lon, lat, true }
func (unprojected) inverse(x, y float64) (lon, lat float64, ok bool) {
	return x, y, math.Abs(x) <= math.Pi && math.Abs(y) <= math.Pi/2
}

// moved takes a place on one ellipsoid to geocentric coordinates, moves them, and returns longitude and latitude on the
// other; the height above it is dropped. Angles are radians, distances metres.
//
// Source: EPSG Guidance Note 7-2, methods 9602 (geographic to geocentric) and 9603.
func moved(from, to ellipsoid, lon, lat, dx, dy, dz float64) (lon2, lat2 float64) {
	sin, cos := math.Sincos(lat)
	n := from.a / math.Sqrt(1-from.e2*sin*sin) // radius across the meridian
	sinLon, cosLon := math.Sincos(lon)
	x, y, z := n*cos*cosLon+dx, n*cos*sinLon+dy, n*(1-from.e2)*sin+dz
	return math.Atan2(y, x), to.latitudeAt(math.Hypot(x, y), z)
}

// latitudeAt returns the latitude of a place by its distances in metres from the axis and from the plane of the equator.
//
// Source: B. R. Bowring, Survey Review 23 (1976), as EPSG Guidance Note 7-2 has it under method 9602. One step of it
// suffices so near the ellipsoid: the tests hold it to PROJ within 0.1 mm, and found 1e-7 m.
func (el ellipsoid) latitudeAt(axis, z float64) float64 {
	b := el.a * (1 - el.f)
	sin, cos := math.Sincos(math.Atan2(z*el.a, axis*b))
	return math.Atan2(z+el.e2/(1-el.e2)*b*sin*sin*sin, axis-el.e2*el.a*cos*cos*cos)
}
