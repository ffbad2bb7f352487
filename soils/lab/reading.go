package lab

import "rootworthy/soils/unit"

// Bound says how a printed figure binds the true one. The zero value is a plain figure.
type Bound uint8

// The three bounds.
const (
	Exactly Bound = iota
	Below         // "<25": less than the figure, which is the detection limit; "ND" has no figure
	Above         // ">200": more than the figure, which is the end of the calibration
)

// Reading is a figure that may be beyond what the method can tell. The zero Reading was not measured. Value is missing
// with Bound Below when the laboratory printed "ND" without its limit: that is not zero.
type Reading[T ~float64] struct {
	Value unit.Opt[T]
	Bound Bound
}

// Exact returns the figure when it is one, not a limit.
func (r Reading[T]) Exact() (T, bool) {
	v, ok := r.Value.Get()
	return v, ok && r.Bound == Exactly
}

// Measured says whether the laboratory looked for it at all. "ND" is a measurement without a figure: only an Exactly without a value was
// never looked for.
func (r Reading[T]) Measured() bool { return r.Value.Has() || r.Bound != Exactly }
