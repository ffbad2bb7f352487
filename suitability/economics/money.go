package economics

import "rootworthy/soils/unit"

// Money is an amount in the currency of the prices; its name is [Prices.Currency] and the program knows no other.
type Money float64

// PerArea is money over ground, a square metre.
type PerArea float64

// PerAcre returns the money over an acre.
func (p PerArea) PerAcre() float64 { return float64(p) * float64(unit.Acre) }

// PerHectare returns the money over a hectare.
func (p PerArea) PerHectare() float64 { return float64(p) * float64(unit.Hectare) }

// Over returns the money over an area.
func (p PerArea) Over(a unit.Area) Money { return Money(float64(p) * float64(a)) }

// Range is a figure that is not known exactly. Low ≤ Likely ≤ High.
// It is no statistical interval: who gave the figure decides how wide it is.
type Range[T ~float64] struct{ Low, Likely, High T }

// One returns a figure without a range.
func One[T ~float64](v T) Range[T] { return Range[T]{v, v, v} }

// Add returns the sum: lows with lows, highs with highs. All inputs are then low, or high, at once: the ends of a sum are extremes.
func (r Range[T]) Add(o Range[T]) Range[T] {
	return Range[T]{r.Low + o.Low, r.Likely + o.Likely, r.High + o.High}
}

// Less returns the range with a cost taken off: its low is with the high of the cost and its high with the low.
func (r Range[T]) Less(o Range[T]) Range[T] {
	return Range[T]{r.Low - o.High, r.Likely - o.Likely, r.High - o.Low}
}

// Times returns the range times a factor that is not negative.
func (r Range[T]) Times(f float64) Range[T] {
	return Range[T]{r.Low * T(f), r.Likely * T(f), r.High * T(f)}
}

// Spread says whether low and high differ.
func (r Range[T]) Spread() bool { return r.Low != r.High }

// valid says whether low, likely and high are in order.
func (r Range[T]) valid() bool { return r.Low <= r.Likely && r.Likely <= r.High }

// over spreads money over ground; ok is false without ground.
func over(m Range[Money], a unit.Area) (p Range[PerArea], ok bool) {
	if !(a > 0) {
		return p, false
	}
	return Range[PerArea]{PerArea(float64(m.Low) / float64(a)), PerArea(float64(m.Likely) / float64(a)), PerArea(float64(m.High) / float64(a))}, true
}

// PerMass is money for a kilogram.
type PerMass float64

// PerShortTon returns the money for a short ton of 2,000 lb.
func (p PerMass) PerShortTon() float64 { return float64(p) * float64(unit.ShortTon) }

// PerPound returns the money for a pound.
func (p PerMass) PerPound() float64 { return float64(p) * float64(unit.Pound) }

// Years is a time in years.
type Years float64
