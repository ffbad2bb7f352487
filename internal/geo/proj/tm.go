package proj

import "math"

// transverseMercator is the transverse Mercator of the ellipsoid by Krüger's series in the third flattening, to the
// sixth order.
//
// Source: Karney, Transverse Mercator with an accuracy of a few nanometers, J. Geodesy 85 (2011), eqs. 10-12 and
// 22-36 (coefficients read in several transcriptions); EPSG method 9807.
// Range:  within 5 nm up to 3,900 km from the central meridian (Karney, section 4), which is where maxEta stops: at
// the equator 33 degrees, some eleven UTM zones; farther in higher latitudes, but not beyond the poles.
type transverseMercator struct {
	el    ellipsoid
	lon0  float64    // radians
	scale float64    // k0 times the rectifying radius, m
	y0    float64    // northing of the origin's latitude, m
	alpha [6]float64 // sphere to plane
	beta  [6]float64 // plane to sphere
}

// maxEta is the widest easting, in units of the rectifying radius: 3,900 km.
const maxEta = 3900e3 / 6378137.0

// newTransverseMercator takes degrees.
func newTransverseMercator(el ellipsoid, lon0, lat0, k0 float64) (transverseMercator, bool) {
	n := el.f / (2 - el.f)
	n2 := n * n
	p := transverseMercator{el: el, lon0: lon0 * degree}
	p.scale = k0 * el.a / (1 + n) * (1 + n2*(1./4+n2*(1./64+n2/256)))
	p.alpha, p.beta = krueger(n)
	tc := el.conformalTan(math.Tan(lat0 * degree))
	xi, _ := clenshaw(p.alpha, math.Atan(tc), 0)
	p.y0 = p.scale * xi
	return p, finite(p.y0, p.scale) && p.scale > 0
}

func (p transverseMercator) forward(lon, lat float64) (x, y float64, ok bool) {
	tc := p.el.conformalTan(math.Tan(lat))
	sin, cos := math.Sincos(turn(lon - p.lon0))
	xi, eta := math.Atan2(tc, cos), math.Asinh(sin/math.Hypot(tc, cos))
	if math.Abs(eta) > 1.1*maxEta || cos < 0 { // farther out the series strays, even back within maxEta
		return 0, 0, false
	}
	xi, eta = clenshaw(p.alpha, xi, eta)
	return p.scale * eta, p.scale*xi - p.y0, math.Abs(eta) <= maxEta
}

func (p transverseMercator) inverse(x, y float64) (lon, lat float64, ok bool) {
	xi, eta := (y+p.y0)/p.scale, x/p.scale
	if !(math.Abs(eta) <= maxEta && math.Abs(xi) <= 2) {
		return 0, 0, false
	}
	xi, eta = clenshaw(p.beta, xi, eta)
	sh := math.Sinh(eta)
	sin, cos := math.Sincos(xi)
	if cos < -1e-12 { // beyond the pole, a rounding apart
		return 0, 0, false
	}
	tc := sin / math.Hypot(sh, cos)
	return turn(p.lon0 + math.Atan2(sh, cos)), math.Atan(p.el.geographicTan(tc)), true
}
