package lab

import "rootworthy/soils/unit"

// Element is what a nutrient value is of. The zero value is not recorded.
type Element uint8

// The elements that laboratories report. Nitrate and ammonium are given as nitrogen, sulfate as sulfur.
const (
	ElementUnknown Element = iota
	Phosphorus
	Potassium
	Calcium
	Magnesium
	Sodium
	Hydrogen // in saturations only
	Aluminum
	Sulfur
	Boron
	Zinc
	Manganese
	Copper
	Iron
	Molybdenum
	Chlorine
	NitrateN
	AmmoniumN
	Arsenic
	Cadmium
	Cobalt
	Chromium
	Nickel
	Lead
	Selenium
)

// element is one line of the list: what it is called in plain headers and in sentences, and its equivalent if it is a
// cation that laboratories report by charge.
type element struct {
	code, name string
	equivalent unit.Equivalent
}

var elements = [...]element{
	ElementUnknown: {"", "not recorded", 0},
	Phosphorus:     {"p", "phosphorus", 0},
	Potassium:      {"k", "potassium", unit.PotassiumEquivalent},
	Calcium:        {"ca", "calcium", unit.CalciumEquivalent},
	Magnesium:      {"mg", "magnesium", unit.MagnesiumEquivalent},
	Sodium:         {"na", "sodium", unit.SodiumEquivalent},
	Hydrogen:       {"h", "hydrogen", unit.HydrogenEquivalent},
	Aluminum:       {"al", "aluminum", unit.AluminumEquivalent},
	Sulfur:         {"s", "sulfur", 0},
	Boron:          {"b", "boron", 0},
	Zinc:           {"zn", "zinc", 0},
	Manganese:      {"mn", "manganese", 0},
	Copper:         {"cu", "copper", 0},
	Iron:           {"fe", "iron", 0},
	Molybdenum:     {"mo", "molybdenum", 0},
	Chlorine:       {"cl", "chloride", 0},
	NitrateN:       {"no3n", "nitrate nitrogen", 0},
	AmmoniumN:      {"nh4n", "ammonium nitrogen", 0},
	Arsenic:        {"as", "arsenic", 0},
	Cadmium:        {"cd", "cadmium", 0},
	Cobalt:         {"co", "cobalt", 0},
	Chromium:       {"cr", "chromium", 0},
	Nickel:         {"ni", "nickel", 0},
	Lead:           {"pb", "lead", 0},
	Selenium:       {"se", "selenium", 0},
}

// Elements returns every element, in the order of reports.
func Elements() []Element { return members[Element](len(elements)) }

// Code returns the element as plain headers write it, e.g. "p"; empty when not recorded.
func (e Element) Code() string { return elements[e].code }

// String returns the element's name, e.g. "phosphorus".
func (e Element) String() string { return elements[e].name }

// Equivalent returns the mass that carries a milliequivalent; ok is false for what is not a cation.
func (e Element) Equivalent() (unit.Equivalent, bool) {
	return elements[e].equivalent, elements[e].equivalent > 0
}

// members lists 1…n-1: all of a closed set but its "not recorded".
func members[T ~uint8](n int) []T {
	out := make([]T, 0, n-1)
	for i := 1; i < n; i++ {
		out = append(out, T(i))
	}
	return out
}

// memberByCode finds the member with a code; 0 when there is none or the code is empty. Codes are compared as they stand: those who read
// what people type bring it to plain words first.
func memberByCode[T interface {
	~uint8
	Code() string
}](all []T, code string) T {
	for _, m := range all {
		if code != "" && m.Code() == code {
			return m
		}
	}
	return 0
}
