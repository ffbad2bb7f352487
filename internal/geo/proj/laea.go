package proj

import "math"

// lambertAzimuthal is the Lambert azimuthal equal-area projection of the ellipsoid, any aspect.
//
// Source: Snyder, USGS PP 1395, eqs. 24-17 to 24-30; EPSG method 9820.
// Range:  all but the point opposite the centre. Within 50 m of a pole the authalic sine has too few digits left for
// the last 0.1 mm.
type lambertAzimuthal struct {
	el         ellipsoid
	lon0       float64 // radians
	qPole      float64
	rq         float64 // radius of the sphere of equal area, m
	sin1, cos1 float64 // of the centre's authalic latitude
	d          float64 // stretches x and squeezes y so that the scale at the centre is 1 every way
}

// newLambertAzimuthal takes the centre in degrees.
func newLambertAzimuthal(el ellipsoid, lon0, lat0 float64) (lambertAzimuthal, bool) {
	p := lambertAzimuthal{el: el, lon0: lon0 * degree, qPole: el.authalicQ(1), d: 1}
	p.rq = el.a * math.Sqrt(p.qPole/2)
	p.sin1 = el.authalicQ(math.Sin(lat0*degree)) / p.qPole
	p.cos1 = math.Sqrt(math.Max(0, (1-p.sin1)*(1+p.sin1)))
	if p.cos1 > 1e-7 { // at the poles d tends to 1, as Rq² = a² q/2
		p.d = el.a * el.parallelRadius(lat0*degree) / (p.rq * p.cos1)
	}
	return p, finite(p.d, p.rq) && p.d > 0
}

func (p lambertAzimuthal) forward(lon, lat float64) (x, y float64, ok bool) {
	sb := p.el.authalicQ(math.Sin(lat)) / p.qPole
	cb := math.Sqrt(math.Max(0, (1-sb)*(1+sb)))
	sin, cos := math.Sincos(turn(lon - p.lon0))
	w := 1 + p.sin1*sb + p.cos1*cb*cos
	if !(w > 1e-9) { // the point opposite the centre, which becomes a circle
		return 0, 0, false
	}
	b := p.rq * math.Sqrt(2/w)
	return b * p.d * cb * sin, b / p.d * (p.cos1*sb - p.sin1*cb*cos), true
}

func (p lambertAzimuthal) inverse(x, y float64) (lon, lat float64, ok bool) {
	x, y = x/p.d, y*p.d
	rho := math.Hypot(x, y)
	h := rho / (2 * p.rq) // sin of half the angle from the centre
	if !(h < 1-1e-9) {
		return 0, 0, false
	}
	// sin c = 2h √(1-h²), so that sin c / ρ needs no division by a ρ that may be 0.
	cosC, sinCOverRho := 1-2*h*h, math.Sqrt((1-h)*(1+h))/p.rq
	sb := cosC*p.sin1 + y*sinCOverRho*p.cos1
	east, north := x*sinCOverRho, p.cos1*cosC-p.sin1*y*sinCOverRho
	lat = p.el.fromAuthalic(sb, math.Hypot(east, north), sb*p.qPole)
	return turn(p.lon0 + math.Atan2(east, north)), lat, true
}
