package lime

import (
	"fmt"

	"rootworthy/soils/unit"
)

// Refusal is the error of a method that has no figure: something was not measured, or lies outside its range.
type Refusal struct {
	Method string // its name
	Code   string // of [Refusals]
	What   string // what is wrong
	Fix    string // what to do about it
}

// Error returns the refusal in a sentence.
func (r *Refusal) Error() string { return r.Method + ": " + r.What + "; " + r.Fix }

// Codes of refusals, stable.
const (
	NotMeasured   = "not measured"          // the method needs a value that the sample does not have
	OutsidePH     = "pH outside the range"  // of the method
	OutsideTarget = "target outside"        // the range of the method
	OutsideBuffer = "buffer pH outside"     // the range of the method
	OutsideSoil   = "soil outside"          // a kind of soil the method is not for
	OutsideDepth  = "depth not possible"    // zero, negative or beyond reach
	NoSlice       = "slice not stated"      // so another depth cannot be had
	NotAllowed    = "formula from memory"   // and nobody allowed it
	NotAsked      = "question not answered" // the method needs a decision
	Ambiguous     = "several answers"       // and nobody chose
	BadValue      = "value not possible"    // negative, or no number
)

// Refusals lists every code.
func Refusals() []string {
	return []string{NotMeasured, OutsidePH, OutsideTarget, OutsideBuffer, OutsideSoil, OutsideDepth, NoSlice, NotAllowed, NotAsked, Ambiguous, BadValue}
}

// refuse makes a refusal; the method's name is filled in by [Method.Require].
func refuse(code, fix, format string, args ...any) error {
	return &Refusal{Code: code, What: fmt.Sprintf(format, args...), Fix: fix}
}

// have returns a measured value, or the refusal that asks for it.
func have[T ~float64](v unit.Opt[T], what string) (T, error) {
	x, ok := v.Get()
	switch {
	case !ok:
		return 0, refuse(NotMeasured, "ask the laboratory for it, or use another method", "%s was not measured", what)
	// NaN or infinite
	case x-x != 0:
		return 0, refuse(BadValue, "correct it", "%s is no number", what)
	}
	return x, nil
}

// atLeastZero is have for what cannot be negative.
func atLeastZero[T ~float64](v unit.Opt[T], what string) (T, error) {
	x, err := have(v, what)
	if err == nil && x < 0 {
		return 0, refuse(BadValue, "correct it", "%s of %g is not possible", what, float64(x))
	}
	return x, err
}
