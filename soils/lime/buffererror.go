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

// Explanation is how much of the variance of what soils need, or of how they resist, a measurement explains.
type Explanation struct {
	By          string // what was measured
	Least, Most unit.Fraction
	Of          string // what it explains
	Source      string
}

// Explanations lists what was published: even a measured buffer leaves a third of it open, and what a survey records
// leaves more, so no rate is exact.
func Explanations() []Explanation {
	const of, virginia = "lime requirement in incubation, 17 Virginia soils, to pH 6.2",
		"Mullins, Zelazny, Heckendorn and Alley (Virginia Tech) 2005, Evaluation of the Mehlich buffer for Virginia soils (abstract)"
	return []Explanation{
		{string(Mehlich), 0.72, 0.72, of, virginia},
		{string(AdamsEvans), 0.66, 0.66, of, virginia},
		{string(SMP), 0.82, 0.82, of, virginia},
		{"carbon", 0.76, 0.76, "pH buffering, 34 New Zealand soils", "Curtin and Trolove 2013 (abstract)"},
		{"carbon, clay and phosphate retention", 0.90, 0.90, "pH buffering, 34 New Zealand soils", "Curtin and Trolove 2013 (abstract)"},
		{"organic matter or H + Al, and the rise of pH", 0.758, 0.886, "lime requirement, 22 Brazilian soils", "Teixeira, Alvarez V. and Neves 2020 (abstract)"},
	}
}

// Explained returns the share of the variance of the requirement that a buffer explains; ok is false for buffers that
// were not tried. See [Explanations].
func Explained(b Buffer) (share unit.Fraction, ok bool) {
	for _, e := range Explanations() {
		if e.By == string(b) {
			// the least is the share to count on; of the buffers both are the same figure
			return e.Least, true
		}
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
