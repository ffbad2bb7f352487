package nutrient

import (
	_ "embed"
	"sync"

	"rootworthy/soils/unit"
)

//go:embed tissue.csv
var tissueCSV string

// TissueRange is what a source calls sufficient in the top of the plant. Where sources disagree both stand.
type TissueRange struct {
	Element         string // symbol in small letters: n, p, k, ca, mg, s
	Low             unit.Percent
	High            unit.Opt[unit.Percent] // missing where the source names only what is low
	Part, Stage     string                 // what to pick, and when
	AddLow, AddHigh unit.Opt[unit.AreaRate]
	Advice          string // of [TissueAdvices]: what to look to when it is low
	Source          string
	Seen            Seen
}

// TissueAdvices lists the codes of what low tissue calls for.
func TissueAdvices() []string {
	return []string{"molybdenum on leaves", "phosphate", "potash", "lime", "magnesium", "sulfur"}
}

// The columns used are element, low, high, part, stage, least and most to add in lb/ac, advice, source and seen.
var tissueRanges = sync.OnceValue(func() []TissueRange {
	var out []TissueRange
	for _, r := range rows(tissueCSV) {
		t := TissueRange{Element: r[0], Low: unit.Percent(number(r[2])), Part: r[4], Stage: r[5], Advice: r[8], Source: r[9], Seen: Seen(r[10])}
		if r[3] != "" {
			t.High = unit.Some(unit.Percent(number(r[3])))
		}
		if r[6] != "" {
			t.AddLow, t.AddHigh = some(unit.PoundsPerAcre(number(r[6]))), some(unit.PoundsPerAcre(number(r[7])))
		}
		out = append(out, t)
	}
	return out
})

// TissueRanges returns the ranges of an element, in the order of the table; of every element for "".
func TissueRanges(element string) []TissueRange {
	var out []TissueRange
	for _, t := range tissueRanges() {
		if element == "" || t.Element == element {
			out = append(out, t)
		}
	}
	return out
}

// Level is how a tissue test stands to a range.
type Level string

// The levels.
const (
	LowTissue        Level = "low"
	SufficientTissue Level = "sufficient"
	HighTissue       Level = "high"
)

// Levels lists them.
func Levels() []Level { return []Level{LowTissue, SufficientTissue, HighTissue} }

// Of rates a tissue test; both ends of a range are sufficient. ok is false for what is no share.
func (t TissueRange) Of(v unit.Percent) (l Level, ok bool) {
	high, bounded := t.High.Get()
	switch {
	case !(v >= 0 && v <= 100):
		return "", false
	case v < t.Low:
		return LowTissue, true
	case bounded && v > high:
		return HighTissue, true
	}
	return SufficientTissue, true
}
