package proj

import (
	"strconv"

	"github.com/paulmach/orb"
)

// CRS is a coordinate reference system that the program can read: longitude and latitude, or a projected plane. The
// zero value knows no coordinates: all its conversions report false. A CRS is a value and safe to share.
type CRS struct {
	name  string
	code  int // EPSG; 0 when the text it came from names none
	note  string
	datum int // EPSG code of the datum's geographic system
	geo   bool
	unit  linearUnit // of projected coordinates
	proj  projection // nil when geo and on WGS 84 or taken as it; knows neither unit nor false origin
	par   parameters // its false origin is applied here, the rest kept to compare systems
	kind  method     // that made proj
}

// Name returns the system's name as its source writes it, such as "NAD83 / UTM zone 15N".
func (c CRS) Name() string { return c.name }

// String returns "EPSG:5070", or the name where no code is known.
func (c CRS) String() string {
	if c.code != 0 {
		return "EPSG:" + strconv.Itoa(c.code)
	}
	return c.name
}

// EPSG returns the system's code; ok is false when its text named none or one that contradicts the text.
func (c CRS) EPSG() (code int, ok bool) { return c.code, c.code != 0 }

// Geographic tells whether coordinates are longitude and latitude in degrees.
func (c CRS) Geographic() bool { return c.geo }

// Note returns what a report has to say about using this system, or "" when there is nothing: that its datum is taken
// as WGS 84 or brought to it and how well, that areas do not hold in it.
func (c CRS) Note() string { return c.note }

// Unit returns the name of the unit of projected coordinates and its size in metres; "degree" and 0 for geographic
// systems, whose unit has no size.
func (c CRS) Unit() (name string, metres float64) {
	if c.geo {
		return "degree", 0
	}
	return c.unit.name, c.unit.metre
}

// ToLonLat turns coordinates of this system, x (easting or longitude) first, into longitude and latitude in degrees.
// ok is false for NaN, infinities and points outside the projection's domain or the area of use of its datum's shift.
func (c CRS) ToLonLat(p orb.Point) (lonLat orb.Point, ok bool) {
	if c.geo && c.proj == nil {
		return p, onEarth(p[0], p[1])
	}
	if c.proj == nil || !finite(p[0], p[1]) {
		return orb.Point{}, false
	}
	lon, lat, ok := c.proj.inverse((p[0]-c.par.fe)*c.unit.metre, (p[1]-c.par.fn)*c.unit.metre)
	lon, lat = lon/degree, lat/degree
	if !ok || !onEarth(lon, lat) {
		return orb.Point{}, false
	}
	return orb.Point{lon, lat}, true
}

// FromLonLat turns longitude and latitude in degrees into coordinates of this system. ok is false for NaN, for what is
// no place on Earth and for points outside the projection's domain or the area of use of its datum's shift.
func (c CRS) FromLonLat(p orb.Point) (xy orb.Point, ok bool) {
	if !onEarth(p[0], p[1]) {
		return orb.Point{}, false
	}
	if c.geo && c.proj == nil {
		return p, true
	}
	if c.proj == nil {
		return orb.Point{}, false
	}
	x, y, ok := c.proj.forward(p[0]*degree, p[1]*degree)
	if !ok || !finite(x, y) {
		return orb.Point{}, false
	}
	return orb.Point{x/c.unit.metre + c.par.fe, y/c.unit.metre + c.par.fn}, true
}
