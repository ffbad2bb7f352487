package proj

import "math"

// lambertConic is the Lambert conformal conic, with one standard parallel and a scale factor or with two.
//
//	ρ = a F k0 exp(-n ψ), θ = n (λ - λ0), x = ρ sin θ, y = ρ0 - ρ cos θ; ψ the isometric latitude
//
// Source: Snyder, USGS PP 1395, eqs. 15-1 to 15-11 with t = exp(-ψ); EPSG methods 9801 and 9802.
// Range:  all but the pole that the cone opens away from.
type lambertConic struct {
	el   ellipsoid
	lon0 float64 // radians
	n    float64 // the cone's angle over 2π
	aF   float64 // a F k0, carries the sign of n
	rho0 float64 // radius of the origin's parallel, m; signed as n
	sgn  float64 // sign of n: the apex lies north (+1) or south (-1)
}

// newLambertConic takes degrees. One standard parallel: give it twice. ok is false when the parallels define no cone.
func newLambertConic(el ellipsoid, lon0, lat0, sp1, sp2, k0 float64) (lambertConic, bool) {
	p := lambertConic{el: el, lon0: lon0 * degree}
	psi1, psi2 := el.isometric(sp1*degree), el.isometric(sp2*degree)
	m1, m2 := el.parallelRadius(sp1*degree), el.parallelRadius(sp2*degree)
	p.n = math.Sin(sp1 * degree)
	if math.Abs(sp1-sp2) > 1e-10 {
		p.n = math.Log(m1/m2) / (psi2 - psi1)
	}
	if !(math.Abs(p.n) > 1e-9) || math.Abs(sp1) >= 90 || math.Abs(sp2) >= 90 {
		return p, false
	}
	p.aF = el.a * k0 * m1 / p.n * math.Exp(p.n*psi1)
	p.sgn = math.Copysign(1, p.n)
	p.rho0 = p.aF * math.Exp(-p.n*el.isometric(lat0*degree))
	return p, finite(p.aF, p.rho0) && p.aF != 0
}

func (p lambertConic) forward(lon, lat float64) (x, y float64, ok bool) {
	if lat*p.sgn < -math.Pi/2+1e-9 { // the far pole is at infinity
		return 0, 0, false
	}
	rho := p.aF * math.Exp(-p.n*p.el.isometric(lat))
	sin, cos := math.Sincos(p.n * turn(lon-p.lon0))
	return rho * sin, p.rho0 - rho*cos, true
}

func (p lambertConic) inverse(x, y float64) (lon, lat float64, ok bool) {
	dy := p.rho0 - y
	rho := math.Hypot(x, dy)
	theta := math.Atan2(x*p.sgn, dy*p.sgn)
	if math.Abs(theta/p.n) > math.Pi {
		return 0, 0, false
	}
	if rho == 0 {
		return p.lon0, p.sgn * math.Pi / 2, true
	}
	psi := -math.Log(rho/math.Abs(p.aF)) / p.n
	return turn(p.lon0 + theta/p.n), p.el.fromIsometric(psi), true
}
