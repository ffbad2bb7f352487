package proj

import "math"

// webMercator is the sphere's Mercator fed with latitudes of the ellipsoid, as web maps use it. It keeps neither
// angles nor areas; files in it are read, nothing is measured in it.
//
// Source: EPSG Guidance Note 7-2, method 1024.
// Range:  latitudes to 89.5 degrees; the poles are at infinity.
type webMercator struct{ a, lon0 float64 }

func (p webMercator) forward(lon, lat float64) (x, y float64, ok bool) {
	if !(math.Abs(lat) <= 89.5*degree) {
		return 0, 0, false
	}
	return p.a * turn(lon-p.lon0), p.a * math.Asinh(math.Tan(lat)), true
}

func (p webMercator) inverse(x, y float64) (lon, lat float64, ok bool) {
	if !(math.Abs(x) <= p.a*math.Pi*(1+1e-12)) {
		return 0, 0, false
	}
	lat = math.Atan(math.Sinh(y / p.a))
	return turn(p.lon0 + x/p.a), lat, math.Abs(lat) <= 89.5*degree
}
