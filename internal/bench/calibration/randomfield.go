package main

import (
	"math"
	"math/rand/v2"
)

// randomField is a smooth random surface with mean 0 and variance 1: a sum of waves whose directions and lengths are
// drawn so that values a distance h apart agree by exp(-h²/reach²).
// Source: spectral simulation, Shinozuka & Deodatis 1991, Applied Mechanics Reviews 44, 191–204; from memory, not checked. The
// test counts variance and agreement.
type randomField struct{ kx, ky, phase [waves]float64 }

// waves is how many are added up: the sum is then normal to the eye.
const waves = 64

// newRandomField draws a surface; reach is in metres.
func newRandomField(r *rand.Rand, reach float64) *randomField {
	f := &randomField{}
	s := math.Sqrt2 / reach // a Gaussian covariance has a Gaussian spectrum
	for i := range waves {
		f.kx[i], f.ky[i], f.phase[i] = s*r.NormFloat64(), s*r.NormFloat64(), 2*math.Pi*r.Float64()
	}
	return f
}

// at returns the surface at a place in metres.
func (f *randomField) at(x, y float64) float64 {
	sum := 0.0
	for i := range waves {
		sum += math.Cos(f.kx[i]*x + f.ky[i]*y + f.phase[i])
	}
	// A cosine of random phase has variance 1/2.
	return sum * math.Sqrt(2.0/waves)
}

// share is the chance that a standard normal variable stays under z: it turns a surface into one that is even from 0 to 1.
func share(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
