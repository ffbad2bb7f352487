package proj

import "math"

// authalicQ returns q of a latitude's sine: the area of the belt between the equator and that parallel, divided by
// π a². All equal-area projections of the ellipsoid are made of it.
//
//	q = (1 - e²) [s / (1 - e² s²) + atanh(e s) / e]
//
// Source: Snyder, USGS PP 1395, eq. 3-12 (the logarithm there is 2 atanh).
func (el ellipsoid) authalicQ(s float64) float64 {
	if el.e == 0 {
		return 2 * s
	}
	es := el.e * s
	return (1 - el.e2) * (s/(1-es*es) + math.Atanh(es)/el.e)
}

// fromAuthalic returns the latitude whose authalic latitude has the given sine and cosine (both of one angle β, any
// common positive scale); q is sin β · q(pole) as exactly as the caller knows it.
//
// A series (Snyder, USGS PP 1395, eq. 3-18) comes within 1e-9 of the latitude; one Newton step on q, eq. 3-16, takes
// it to the last digit. Next to the poles q hardly changes with latitude and the series alone is better.
func (el ellipsoid) fromAuthalic(sinB, cosB, q float64) float64 {
	b := math.Atan2(sinB, cosB)
	e2 := el.e2
	phi := b +
		e2*(1./3+e2*(31./180+e2*517/5040))*math.Sin(2*b) +
		e2*e2*(23./360+e2*251/3780)*math.Sin(4*b) +
		e2*e2*e2*761/45360*math.Sin(6*b)
	s, c := math.Sincos(phi)
	if c < 1e-5 {
		return phi
	}
	w := 1 - e2*s*s
	return phi + w*w/(2*c*(1-e2))*(q-el.authalicQ(s))
}
