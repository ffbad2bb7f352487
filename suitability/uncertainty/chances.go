package uncertainty

import (
	"math"

	"rootworthy/suitability"
)

// Chances holds the chance of each class, 0…1; together they are 1. Index it by class, or ask Of.
type Chances [4]float64

// Of returns the chance of a class.
func (c Chances) Of(class suitability.Class) float64 {
	if int(class) < len(c) {
		return c[class]
	}
	return 0
}

// Likeliest returns the class with the largest chance, the worse of equals; not rated only where nothing is likelier.
func (c Chances) Likeliest() suitability.Class {
	best := suitability.NotRated
	for _, k := range []suitability.Class{suitability.Suited, suitability.Marginal, suitability.Unsuited} {
		// from better to worse with "or equal", so that the worse of equals stays
		if c[k] >= c[best] && c[k] > 0 {
			best = k
		}
	}
	return best
}

// counts are draws by class.
type counts [4]int

// chances divides by the number of draws, which is not zero.
func (n counts) chances(all int) (c Chances) {
	for i := range n {
		c[i] = float64(n[i]) / float64(all)
	}
	return c
}

// z95 is the deviate that a normal variable stays within 19 times in 20.
const z95 = 1.959964

// halfWidth is how far a chance estimated from k of n draws may be off, 19 times in 20: half the score interval, which
// is not zero even where all draws agree.
//
//	z √(p(1-p)/n + z²/4n²) / (1 + z²/n)
//
// Source: Wilson 1927, Journal of the American Statistical Association 22, 209–212; formula from memory, checked in the tests by counting.
func halfWidth(k, n int) float64 {
	p, m := float64(k)/float64(n), float64(n)
	return z95 * math.Sqrt(p*(1-p)/m+z95*z95/(4*m*m)) / (1 + z95*z95/m)
}

// widest is the largest half width of the counts.
func (n counts) widest(all int) float64 {
	w := 0.0
	for _, k := range n {
		w = max(w, halfWidth(k, all))
	}
	return w
}
