package uncertainty

import "math"

// triangle returns the value that a triangular distribution stays under with chance u.
//
//	u ≤ F:  low + √(u (high-low)(mode-low))      F = (mode-low) / (high-low)
//	u > F:  high - √((1-u)(high-low)(high-mode))
//
// Source: Evans, Hastings & Peacock, Statistical Distributions, triangular distribution; from memory, not checked; the
// tests check mean and variance against (a+b+c)/3 and (a²+b²+c²-ab-ac-bc)/18.
// Range:  low <= mode <= high; without a span it is the mode.
func triangle(u, low, mode, high float64) float64 {
	span := high - low
	if !(span > 0) {
		return mode
	}
	// multiplied and not divided by span, as F would have it: no division by a span near zero
	if u*span <= mode-low {
		return low + math.Sqrt(u*span*(mode-low))
	}
	return high - math.Sqrt((1-u)*span*(high-mode))
}
