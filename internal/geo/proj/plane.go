package proj

import (
	"math"
	"strconv"

	"github.com/paulmach/orb"
)

// Plane is an equal-area plane in metres, x east and y north: the ground under overlays and areas. A ring's planar area
// is its area on the ellipsoid, wherever the ring lies and however its shape is bent; only edges bend, see
// [Plane.AppendForward]. The zero value is no plane; get one from [PlaneFor].
//
// EPSG:5070 and EPSG:3338 stand on GRS80 and local planes on WGS 84: an area differs between the two by less than
// 4e-11 of itself.
type Plane struct {
	name string
	proj projection
}

// The bounds within which the national planes serve, in degrees. Equal-area holds beyond; shapes suffer.
//
// Source: common practice, no source; a little wider than the EPSG areas of use of 5070 and 3338.
func lower48Bound() orb.Bound {
	return orb.Bound{Min: orb.Point{-125.5, 24}, Max: orb.Point{-66, 50}}
}

func alaskaBound() orb.Bound {
	return orb.Bound{Min: orb.Point{-180, 51}, Max: orb.Point{-129, 72}}
}

// PlaneFor picks the plane for data within bound (longitude, latitude in degrees): EPSG:5070 when they lie in the lower
// 48 states, EPSG:3338 in Alaska, else a Lambert azimuthal equal-area plane centred on the whole degree next to the
// middle of bound, so that like data get the same plane. Data of any span get a plane with true areas; only the point
// opposite the centre has no place in it, and Forward says so. An empty bound, or one with NaN, gets EPSG:5070.
func PlaneFor(bound orb.Bound) Plane {
	usable := onEarth(bound.Min[0], bound.Min[1]) && onEarth(bound.Max[0], bound.Max[1]) && !bound.IsEmpty()
	switch {
	case !usable || within(bound, lower48Bound()):
		p, _ := newAlbers(grs80(), -96, 23, 29.5, 45.5) // EPSG:5070, method 9822
		return Plane{"EPSG:5070", p}
	case within(bound, alaskaBound()):
		p, _ := newAlbers(grs80(), -154, 50, 55, 65) // EPSG:3338
		return Plane{"EPSG:3338", p}
	}
	c := bound.Center()
	lon, lat := math.Round(c[0]), math.Round(c[1])
	p, _ := newLambertAzimuthal(wgs84(), lon, lat)
	name := "Lambert azimuthal equal-area, WGS 84, centre " + strconv.Itoa(int(lon)) + " " + strconv.Itoa(int(lat))
	return Plane{name, p}
}

// within tells whether a lies in b.
func within(a, b orb.Bound) bool { return b.Contains(a.Min) && b.Contains(a.Max) }

// String names the plane for a report: "EPSG:5070", or the projection and its centre (longitude, latitude).
func (p Plane) String() string { return p.name }

// Forward turns longitude and latitude in degrees into metres of the plane. ok is false for what is no place on Earth
// and for the point opposite the centre of a local plane.
func (p Plane) Forward(lonLat orb.Point) (xy orb.Point, ok bool) {
	if !onEarth(lonLat[0], lonLat[1]) || p.proj == nil {
		return orb.Point{}, false
	}
	x, y, ok := p.proj.forward(lonLat[0]*degree, lonLat[1]*degree)
	if !ok || !finite(x, y) {
		return orb.Point{}, false
	}
	return orb.Point{x, y}, true
}

// Inverse turns metres of the plane into longitude and latitude in degrees. ok is false for NaN, infinities and points
// outside the plane's image of the Earth.
func (p Plane) Inverse(xy orb.Point) (lonLat orb.Point, ok bool) {
	if p.proj == nil || !finite(xy[0], xy[1]) {
		return orb.Point{}, false
	}
	lon, lat, ok := p.proj.inverse(xy[0], xy[1])
	lon, lat = lon/degree, lat/degree
	if !ok || !onEarth(lon, lat) {
		return orb.Point{}, false
	}
	return orb.Point{lon, lat}, true
}
