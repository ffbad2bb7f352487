package proj

import "math"

// The conformal latitude χ of a latitude φ keeps angles when the ellipsoid is laid on a sphere. Both are carried as
// tangents, which stay exact near the poles.

// conformalTan returns tan χ for tan φ.
//
//	tan χ = t √(1 + σ²) - σ √(1 + t²), t = tan φ, σ = sinh(e atanh(e sin φ))
//
// Source: Karney, Transverse Mercator with an accuracy of a few nanometers, J. Geodesy 85 (2011), eqs. 7-9 (from
// memory; checked against PROJ 9.1.1).
func (el ellipsoid) conformalTan(t float64) float64 {
	h := math.Hypot(1, t)
	sigma := math.Sinh(el.eatanhe(t / h))
	return t*math.Hypot(1, sigma) - sigma*h
}

// geographicTan returns tan φ for tan χ, by Newton's method on [ellipsoid.conformalTan].
//
// Source: as conformalTan, eqs. 19-21. Two steps reach the last digit on an Earth-like figure; five is a ceiling for
// flatter ones.
func (el ellipsoid) geographicTan(tc float64) float64 {
	e2m := 1 - el.e2
	t := tc / e2m
	if math.Abs(tc) > 70 { // near the poles
		t = tc * math.Exp(el.eatanhe(1))
	}
	if math.Abs(tc) > 1e8 { // nearer than a step could mend
		return t
	}
	for range 5 {
		got := el.conformalTan(t)
		d := (tc - got) / math.Hypot(1, got) * (1 + e2m*t*t) / (e2m * math.Hypot(1, t))
		t += d
		if !(math.Abs(d) > 1e-16*math.Max(1, math.Abs(t))) {
			break
		}
	}
	return t
}

// isometric returns the isometric latitude ψ of φ: equal steps of ψ and longitude are squares on the ground. At the
// poles it is infinite; a right angle in floating point falls short of one and gives ±37.
func (el ellipsoid) isometric(phi float64) float64 {
	return math.Asinh(math.Tan(phi)) - el.eatanhe(math.Sin(phi))
}

// fromIsometric is the inverse of [ellipsoid.isometric]; it takes infinities too, and gives the poles.
func (el ellipsoid) fromIsometric(psi float64) float64 {
	return math.Atan(el.geographicTan(math.Sinh(psi)))
}
