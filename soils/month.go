package soils

import (
	"strings"

	"rootworthy/soils/unit"
)

// Month is what the survey says of a component in one month. Source: SSURGO comonth and cosoilmoist.
type Month struct {
	Month           int // 1…12
	Flooding        Frequency
	FloodDuration   string // floddurcl, e.g. "Long", without the span of time that exports add; empty when not recorded
	Ponding         Frequency
	PondingDuration string
	Layers          []MoistureLayer // by top depth
}

// MoistureLayer is the state of water in one layer in one month.
type MoistureLayer struct {
	Top, Bottom     unit.Opt[unit.Depth]
	TopLow, TopHigh unit.Opt[unit.Depth] // the range of Top: soimoistdept_l, soimoistdept_h
	Status          string               // soimoiststat: Dry, Moist, Wet; empty when not recorded
}

// Wet says whether free water stands in the layer.
func (l MoistureLayer) Wet() bool { return strings.EqualFold(l.Status, "Wet") }

// Frequency is a flooding or ponding frequency class, rarest first. The zero value is not recorded; the word "None"
// is a rating. Source: domains flooding_frequency_class and ponding_frequency_class of SSURGO.
type Frequency uint8

// The classes. "Common" is an obsolete class of older surveys; ponding uses None, Rare, Occasional, Common, Frequent.
const (
	FrequencyUnknown Frequency = iota
	Never                      // "None"
	VeryRare
	Rare
	Occasional
	Common
	Frequent
	VeryFrequent
)

var frequencyNames = [...]string{"", "None", "Very rare", "Rare", "Occasional", "Common", "Frequent", "Very frequent"}

// Frequencies lists every recorded class, rarest first.
func Frequencies() []Frequency {
	return []Frequency{Never, VeryRare, Rare, Occasional, Common, Frequent, VeryFrequent}
}

// ParseFrequency reads a class as the survey writes it. ok is false for an unknown word; empty text is not recorded, ok.
func ParseFrequency(s string) (f Frequency, ok bool) {
	s = strings.TrimSpace(s)
	for i, n := range frequencyNames {
		if strings.EqualFold(s, n) {
			return Frequency(i), true
		}
	}
	return FrequencyUnknown, false
}

// String returns the survey's own word, or "" when not recorded.
func (f Frequency) String() string {
	if int(f) < len(frequencyNames) {
		return frequencyNames[f]
	}
	return ""
}
