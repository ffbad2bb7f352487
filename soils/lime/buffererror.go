package lime

import (
	"math"

	"rootworthy/soils/unit"
)

// Buffer names a lime buffer, as tables and options write it.
type Buffer string

// The buffers.
const (
	Mehlich     Buffer = "mehlich"
	AdamsEvans  Buffer = "adams_evans"
	MooreSikora Buffer = "moore_sikora"
	SMP         Buffer = "smp"
	Sikora      Buffer = "sikora"
	Woodruff    Buffer = "woodruff"
)

// Buffers lists the buffers.
func Buffers() []Buffer { return []Buffer{Mehlich, AdamsEvans, MooreSikora, SMP, Sikora, Woodruff} }

// Explained returns the share of the variance of the requirement in incubation (17 Virginia soils, to pH 6.2) that a
// buffer explains; ok is false for buffers that were not tried.
// Source: Mullins, Zelazny, Heckendorn and Alley (Virginia Tech), Evaluation of the Mehlich buffer for Virginia soils (2005, abstract).
func Explained(b Buffer) (share unit.Fraction, ok bool) {
	switch b {
	case Mehlich:
		return 0.72, true
	case AdamsEvans:
		return 0.66, true
	case SMP:
		return 0.82, true
	}
	return 0, false
}

// soilsVary is how far the requirements of soils spread around their mean, as a share of it. The source of [Explained]
// gives no spread, and without one a share of variance is no error of a rate.
// Source: proposal.
const soilsVary = 0.5

// BufferError returns the likely error, one standard deviation, of a rate from a buffer pH as a share of the rate.
//
//	error = √(1 - explained) × 0.5
//
// Source: see [Explained] for the share; the spread of 0.5 is a proposal. It makes ±26 % for Mehlich, ±29 % for
// Adams-Evans and ±21 % for SMP. ok is false for other buffers.
func BufferError(b Buffer) (unit.Fraction, bool) {
	share, ok := Explained(b)
	return unit.Fraction(math.Sqrt(1-float64(share)) * soilsVary), ok
}
