package ranking

import (
	"cmp"
	"slices"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// listed returns the codes of a set in the order of suitability.Codes.
func listed(set map[suitability.Code]bool) (out []suitability.Code) {
	for _, c := range suitability.Codes() {
		if set[c] {
			out = append(out, c)
		}
	}
	return out
}

// byArea returns what limits, by falling area, then in the order of suitability.Codes.
func byArea(areas map[suitability.Code]unit.Area) (out []suitability.Code) {
	for _, c := range suitability.Codes() {
		if areas[c] > 0 {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b suitability.Code) int { return cmp.Compare(areas[b], areas[a]) })
	return out
}
