package soils

import "math"

// roundHalfAway rounds x to the given number of decimals as one does on paper, a half going away from zero.
//
// Sums of survey values (at most two decimals) times whole percents and centimetres, over a sum of percents, lie either
// exactly on a half or at least 1e-6 from it; binary floats miss them by about 1e-13. The guard of 1e-9 lies between.
func roundHalfAway(x float64, decimals int) float64 {
	scale := math.Pow10(decimals)
	n := math.Floor(math.Abs(x)*scale + 0.5 + 1e-9)
	if n == 0 {
		return 0 // never -0, which would print its sign
	}
	return math.Copysign(n/scale, x)
}
