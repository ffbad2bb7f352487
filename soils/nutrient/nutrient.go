package nutrient

import "rootworthy/soils/lab"

// Nutrient is what a fertilizer is bought for. The zero value is not recorded.
type Nutrient uint8

// The nutrients, in the order of reports: potassium first, since want of it is what stands die of first (common practice, no
// source).
const (
	NutrientUnknown Nutrient = iota
	Potassium
	Phosphorus
	Magnesium
	Sulfur
	Boron
	Molybdenum
)

var nutrients = [...]struct {
	code, name, sold string
	element          lab.Element
}{
	NutrientUnknown: {"", "not recorded", "", lab.ElementUnknown},
	Potassium:       {"k", "potassium", "K2O", lab.Potassium},
	Phosphorus:      {"p", "phosphorus", "P2O5", lab.Phosphorus},
	Magnesium:       {"mg", "magnesium", "Mg", lab.Magnesium},
	Sulfur:          {"s", "sulfur", "S", lab.Sulfur},
	Boron:           {"b", "boron", "B", lab.Boron},
	Molybdenum:      {"mo", "molybdenum", "Mo", lab.Molybdenum},
}

// Nutrients lists them all.
func Nutrients() []Nutrient {
	return []Nutrient{Potassium, Phosphorus, Magnesium, Sulfur, Boron, Molybdenum}
}

// ByCode returns the nutrient of a code such as "k"; ok is false when there is none. Codes are small letters; callers that read what
// people type lower them first.
func ByCode(code string) (n Nutrient, ok bool) {
	for _, n := range Nutrients() {
		if n.Code() == code {
			return n, true
		}
	}
	return NutrientUnknown, false
}

// Code returns the symbol in small letters, as tables and records write it.
func (n Nutrient) Code() string { return nutrients[n].code }

// String returns the name, e.g. "potassium".
func (n Nutrient) String() string { return nutrients[n].name }

// Sold returns what rates and labels count, e.g. "K2O".
func (n Nutrient) Sold() string { return nutrients[n].sold }

// Element returns what laboratories measure.
func (n Nutrient) Element() lab.Element { return nutrients[n].element }
