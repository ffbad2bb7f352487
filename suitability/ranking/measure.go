package ranking

import "rootworthy/soils/unit"

// State says what is known of a field by one criterion. The zero value is missing, which is neither good nor bad.
type State uint8

// The states.
const (
	Missing State = iota
	Known
	Hopeless // there is no suited ground, so a cost of it, or a day for it, is as bad as can be
)

// Measure is what a field has by one criterion, in the unit of the criterion.
type Measure struct {
	State             State
	Low, Likely, High float64 // Low ≤ Likely ≤ High, zero unless known; likely is what every other output shows
}

// Between returns a known measure; ends that do not hold the likely value are moved to it. Draws and the likely figure of the rating come
// from two reckonings, so the ends need not hold it.
func Between(low, likely, high float64) Measure {
	return Measure{Known, min(low, likely), likely, max(high, likely)}
}

// Exactly returns a known measure without a range.
func Exactly(x float64) Measure { return Between(x, x, x) }

// Without returns the measure of a field that has no suited ground to count by.
func Without() Measure { return Measure{State: Hopeless} }

// Value returns the likely value; missing where there is none.
func (m Measure) Value() unit.Opt[float64] {
	if m.State == Known {
		return unit.Some(m.Likely)
	}
	return unit.None[float64]()
}
