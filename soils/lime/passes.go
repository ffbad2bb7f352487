package lime

import (
	"math"

	"rootworthy/soils/unit"
)

// slack keeps a rate that equals a whole number of caps or steps, but for the noise of division, from asking for one more.
const slack = 1e-9

// Passes splits a rate of product as spread into yearly passes of at most most each: full ones first, then the rest.
//
//	6.2 at 2.5 = 2.5 + 2.5 + 1.2
//
// Range: rate ≥ 0, most > 0; else there are none.
func Passes(rate, most unit.AreaRate) []unit.AreaRate {
	if !(rate > 0 && most > 0) {
		return nil
	}
	n := int(min(math.Ceil(float64(rate/most)-slack), mostPasses))
	passes := make([]unit.AreaRate, max(1, n))
	for i := range passes {
		// multiplied and not counted down: the last pass is exactly what is left
		passes[i] = min(most, rate-most*unit.AreaRate(i))
	}
	return passes
}

// mostPasses bounds the work for absurd figures. It is far above 200 short tons an acre at the 0.2 a year below which no cap is taken, so that the
// passes of every rate that a plan can ask add up to it.
const mostPasses = 1000

// OnStep rounds a rate to the nearest step of the spreader; a half goes up, and a rate over zero never goes down to
// nothing. A step of zero changes nothing.
func OnStep(rate, step unit.AreaRate) unit.AreaRate {
	if !(rate > 0 && step > 0) {
		return rate
	}
	return step * unit.AreaRate(max(1, math.Floor(float64(rate/step)+0.5+slack)))
}
