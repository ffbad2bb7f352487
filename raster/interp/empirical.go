package interp

import "math"

// Lag is what the points themselves say about a step of distance.
type Lag struct {
	Distance float64 // mean of the pairs
	Gamma    float64 // half the mean squared difference
	Pairs    int
}

const (
	mostLags      = 15   // Source: the default of the gstat package, from memory, not checked
	leastLags     = 5    // proposal: fewer do not show a shape
	pairsInLag    = 30   // Journel and Huijbregts 1978, from memory, not checked
	mostInPairing = 4000 // points that are paired, 8 million pairs: more change nothing but the time
)

// empirical returns the lags up to half the diagonal of the box of the points, those without pairs left out.
// Source of the half: Pebesma, r-sig-geo 2006, quoting Journel and Huijbregts: up to half the largest distance.
func empirical(points []Sample) []Lag {
	step := (len(points) + mostInPairing - 1) / mostInPairing
	var some []Sample // points stand from west to east, so every n-th is spread over the ground
	for i := 0; i < len(points); i += step {
		some = append(some, points[i])
	}
	// of all points, also where only some are paired
	b := bounds(points)
	reach := distance(b.Min, b.Max) / 2
	pairs := 0
	eachPair(some, reach, func(float64, float64) { pairs++ })
	// Few pairs are put in few lags, or each would be noise.
	n := min(mostLags, max(leastLags, pairs/pairsInLag))
	lags := make([]Lag, n)
	eachPair(some, reach, func(h, difference float64) {
		// a pair exactly at the reach belongs to the last
		l := &lags[min(n-1, int(h/reach*float64(n)))]
		l.Distance += h
		l.Gamma += difference * difference / 2
		l.Pairs++
	})
	out := lags[:0]
	for _, l := range lags {
		// Points on a grid leave steps of distance without any pair.
		if l.Pairs > 0 {
			out = append(out, Lag{l.Distance / float64(l.Pairs), l.Gamma / float64(l.Pairs), l.Pairs})
		}
	}
	return out
}

// eachPair visits the pairs of points within reach.
func eachPair(points []Sample, reach float64, visit func(h, difference float64)) {
	for i, a := range points {
		for _, b := range points[i+1:] {
			if b.At[0]-a.At[0] > reach {
				break // from west to east
			}
			dx, dy := a.At[0]-b.At[0], a.At[1]-b.At[1]
			// at no distance a pair says nothing about distance, and weights by 1/h² have no place for it
			if h := math.Sqrt(dx*dx + dy*dy); h <= reach && h > 0 {
				visit(h, a.Value-b.Value)
			}
		}
	}
}
