package proj

import "math"

// albers is the Albers equal-area conic.
//
//	ρ = a √(C - n q) / n, θ = n (λ - λ0), x = ρ sin θ, y = ρ0 - ρ cos θ
//
// Source: Snyder, USGS PP 1395, eqs. 14-1 to 14-21; EPSG method 9822.
// Range:  the whole ellipsoid forward as long as C - n q >= 0; best between and near the standard parallels.
type albers struct {
	el         ellipsoid
	lon0       float64 // radians
	n, c       float64 // constants of the cone: its angle over 2π, and C of the source
	aOverN     float64
	rho0       float64 // radius of the origin's parallel, m; signed as n
	qPole      float64 // q of the north pole
	invN       float64 // 1/n
	inverseSgn float64 // sign of n: the apex lies north (+1) or south (-1)
}

// newAlbers takes degrees; ok is false when the parallels define no cone.
func newAlbers(el ellipsoid, lon0, lat0, sp1, sp2 float64) (albers, bool) {
	p := albers{el: el, lon0: lon0 * degree, qPole: el.authalicQ(1)}
	s1, s2 := math.Sin(sp1*degree), math.Sin(sp2*degree)
	m1, m2 := el.parallelRadius(sp1*degree), el.parallelRadius(sp2*degree)
	q1, q2 := el.authalicQ(s1), el.authalicQ(s2)
	p.n = s1
	if math.Abs(sp1-sp2) > 1e-10 {
		p.n = (m1*m1 - m2*m2) / (q2 - q1)
	}
	if !(math.Abs(p.n) > 1e-9) { // parallels on either side of the equator cancel: a cylinder
		return p, false
	}
	p.c = m1*m1 + p.n*q1
	p.aOverN, p.invN, p.inverseSgn = el.a/p.n, 1/p.n, math.Copysign(1, p.n)
	r := p.c - p.n*el.authalicQ(math.Sin(lat0*degree))
	p.rho0 = p.aOverN * math.Sqrt(r)
	return p, r >= 0 && finite(p.rho0, p.c)
}

// forward is the hot loop of every overlay: one sine, one atanh, one root and one sine-cosine a vertex.
func (p albers) forward(lon, lat float64) (x, y float64, ok bool) {
	r := p.c - p.n*p.el.authalicQ(math.Sin(lat))
	if !(r >= 0) {
		return 0, 0, false
	}
	rho := p.aOverN * math.Sqrt(r)
	sin, cos := math.Sincos(p.n * turn(lon-p.lon0))
	return rho * sin, p.rho0 - rho*cos, true
}

func (p albers) inverse(x, y float64) (lon, lat float64, ok bool) {
	dy := p.rho0 - y
	rho := math.Hypot(x, dy) / p.aOverN // ρ/a·n, signed as n
	theta := math.Atan2(x*p.inverseSgn, dy*p.inverseSgn)
	q := (p.c - rho*rho) * p.invN
	s := q / p.qPole
	if !(math.Abs(s) <= 1+1e-12) || math.Abs(theta*p.invN) > math.Pi {
		return 0, 0, false
	}
	// cos β from (1-s)(1+s), which keeps its digits near the poles where 1-s² loses them.
	lat = p.el.fromAuthalic(s, math.Sqrt(math.Max(0, (1-s)*(1+s))), q)
	return turn(p.lon0 + theta*p.invN), lat, true
}
