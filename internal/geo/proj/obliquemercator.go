package proj

import "math"

// obliqueMercator is Hotine's oblique Mercator: a Mercator along a line that crosses the centre at an azimuth. Alaska's
// panhandle zone is the case that matters.
//
// Source: Snyder, USGS PP 1395, eqs. 9-11 to 9-48; EPSG Guidance Note 7-2, methods 9812 (variant A, coordinates from
// the natural origin) and 9815 (variant B, from the projection centre). Coefficients from memory, checked against PROJ.
// Range:  within 60 degrees of the centre's longitude (farther round, the aposphere overlaps itself) and off the two
// poles of the line.
type obliqueMercator struct {
	el         ellipsoid
	b, aOverB  float64
	lnH        float64 // ln H in the source: where the line meets the aposphere's equator
	lonC, lon0 float64 // radians, of the centre and of the natural origin
	sin0, cos0 float64 // of γ0, the line's azimuth at the natural origin
	sinR, cosR float64 // of the angle from the skew to the rectified grid
	uc         float64 // subtracted from u: 0 in variant A
}

// newObliqueMercator takes degrees: centre, azimuth of the line, rectified grid angle, scale factor on the line;
// centred is variant B.
func newObliqueMercator(el ellipsoid, lonC, latC, azimuth, gamma, k0 float64, centred bool) (obliqueMercator, bool) {
	p := obliqueMercator{el: el, lonC: lonC * degree}
	phi, alpha := latC*degree, azimuth*degree
	s, c := math.Sincos(phi)
	e2m, w := 1-el.e2, 1-el.e2*s*s
	p.b = math.Sqrt(1 + el.e2*c*c*c*c/e2m)
	p.aOverB = el.a * k0 * math.Sqrt(e2m) / w
	// The source's D, F, G and λ0, with D² - 1 worked out, so that a line that runs due east loses no digits.
	d := p.b * math.Sqrt(e2m) / (c * math.Sqrt(w))
	root := math.Sqrt(e2m) * s / (c * math.Sqrt(w)) // √(D² - 1), signed as the latitude; G in the source
	sinA, cosA := math.Sincos(alpha)
	p.lnH = math.Asinh(root) - p.b*el.isometric(phi)
	p.sin0, p.cos0 = sinA/d, math.Hypot(root, cosA)/d
	p.lon0 = lonC*degree - math.Atan2(root*sinA, d*math.Abs(cosA))/p.b
	p.sinR, p.cosR = math.Sincos(gamma * degree)
	if centred {
		p.uc = math.Copysign(p.aOverB*math.Atan2(math.Abs(root), cosA), phi)
	}
	ok := math.Abs(latC) < 89.9 && p.cos0 > 1e-9 && k0 > 0
	return p, ok && finite(p.lnH, p.lon0) && finite(p.aOverB, p.uc)
}

func (p obliqueMercator) forward(lon, lat float64) (x, y float64, ok bool) {
	if !p.near(lon) {
		return 0, 0, false
	}
	l := p.lnH + p.b*p.el.isometric(lat)
	s, t := math.Sinh(l), math.Cosh(l)
	sin, cos := math.Sincos(p.b * turn(lon-p.lon0))
	uu := (s*p.sin0 - sin*p.cos0) / t
	if !(math.Abs(uu) < 1-1e-9) {
		return 0, 0, false
	}
	v := -p.aOverB * math.Atanh(uu)
	u := p.aOverB*math.Atan2(s*p.cos0+sin*p.sin0, cos) - p.uc
	return v*p.cosR + u*p.sinR, u*p.cosR - v*p.sinR, true
}

func (p obliqueMercator) inverse(x, y float64) (lon, lat float64, ok bool) {
	v := (x*p.cosR - y*p.sinR) / p.aOverB
	u := (y*p.cosR + x*p.sinR + p.uc) / p.aOverB
	if !(math.Abs(v) < 20 && math.Abs(u) <= math.Pi) {
		return 0, 0, false
	}
	s, t := -math.Sinh(v), math.Cosh(v)
	sin, cos := math.Sincos(u)
	uu := (sin*p.cos0 + s*p.sin0) / t
	if !(math.Abs(uu) < 1-1e-9) {
		return 0, 0, false
	}
	psi := (math.Atanh(uu) - p.lnH) / p.b
	lon = p.lon0 - math.Atan2(s*p.cos0-sin*p.sin0, cos)/p.b
	return turn(lon), p.el.fromIsometric(psi), p.near(lon)
}

// near tells whether a longitude in radians lies within the range.
func (p obliqueMercator) near(lon float64) bool {
	return math.Abs(turn(lon-p.lonC)) <= 60*degree+1e-12
}
