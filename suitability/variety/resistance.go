package variety

import (
	"strconv"
	"strings"

	"rootworthy/soils/unit"
)

// Resistance is how many plants of a variety resist. The zero value is not known.
type Resistance uint8

// The classes, the weakest first.
// Source: Cornell University CCA study material, PO 18: S under 5 %, LR 5 to 15, MR 15 to 30, R 31 to 50, HR over 50 % of plants;
// seed catalogs print S 0-5, LR 6-14, MR 15-30, R 31-50, HR over 50.
const (
	Unknown Resistance = iota
	Susceptible
	LowResistance
	ModeratelyResistant
	Resistant
	HighlyResistant
)

var resistances = [...]struct{ code, name string }{
	Unknown:             {"", "not known"},
	Susceptible:         {"S", "susceptible"},
	LowResistance:       {"LR", "low resistance"},
	ModeratelyResistant: {"MR", "moderately resistant"},
	Resistant:           {"R", "resistant"},
	HighlyResistant:     {"HR", "highly resistant"},
}

// Resistances lists the classes, the weakest first.
func Resistances() []Resistance {
	return []Resistance{Susceptible, LowResistance, ModeratelyResistant, Resistant, HighlyResistant}
}

// Code returns the class as tables print it, e.g. "MR"; empty when not known.
func (r Resistance) Code() string { return resistances[r].code }

// String returns the class in words.
func (r Resistance) String() string { return resistances[r].name }

// OfShare returns the class of a share of resistant plants, rounded to whole percent as the classes are printed. Range: 0 to 100;
// not known outside it.
func OfShare(p unit.Percent) Resistance {
	if !(p >= 0 && p <= 100) {
		return Unknown
	}
	// from the top down, so that each bound is asked once; 5 % itself is printed as susceptible by the catalogs
	switch whole := int(float64(p) + 0.5); {
	case whole > 50:
		return HighlyResistant
	case whole > 30:
		return Resistant
	case whole >= 15:
		return ModeratelyResistant
	case whole > 5:
		return LowResistance
	}
	return Susceptible
}

// parseResistance reads a cell; ok is false for what is neither a class nor a share.
func parseResistance(cell string) (r Resistance, ok bool) {
	cell = strings.ToUpper(strings.TrimSpace(cell))
	// an empty cell matches the empty code: not known
	for i, c := range resistances {
		if c.code == cell {
			return Resistance(i), true
		}
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(cell, "%")), 64)
	if err != nil {
		return Unknown, false
	}
	r = OfShare(unit.Percent(v))
	return r, r != Unknown
}
