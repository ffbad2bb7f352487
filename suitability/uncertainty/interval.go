package uncertainty

import (
	"math"
	"slices"
)

// Interval holds a quantity in nine cases of ten: below Low in one of twenty, above High in one of twenty.
type Interval struct{ Low, Middle, High float64 }

// intervalOf returns the interval of draws, which it sorts; ok is false without any.
func intervalOf(draws []float64) (i Interval, ok bool) {
	if len(draws) == 0 {
		return i, false
	}
	slices.Sort(draws)
	return Interval{quantile(draws, 0.05), quantile(draws, 0.5), quantile(draws, 0.95)}, true
}

// quantile is straight between the sorted draws on either side. q is 0…1; sorted is not empty.
func quantile(sorted []float64, q float64) float64 {
	at := q * float64(len(sorted)-1)
	i := int(math.Floor(at))
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
