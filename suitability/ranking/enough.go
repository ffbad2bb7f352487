package ranking

import (
	"cmp"
	"math"
	"slices"

	"rootworthy/soils/unit"
)

// lot is ground that is suited as a whole with some chance, apart from all other ground.
type lot struct {
	area   unit.Area
	chance float64
}

// mostSums is how many different sums are kept apart; a field of twelve unsure zones has no more.
const mostSums = 4096

// sumOf is a sum of areas with the chance of it.
type sumOf struct{ area, chance float64 }

// chanceOf returns the chance that suited ground comes to at least an area: every combination of lots that are suited,
// with its chance. Beyond [mostSums] combinations, neighbours are taken as one at their mean.
//
// Source: textbook; sum of independent two-valued variables.
func chanceOf(lots []lot, least unit.Area) float64 {
	sums, sure := []sumOf{{0, 1}}, 0.0
	lots = slices.Clone(lots)
	slices.SortStableFunc(lots, func(a, b lot) int { return cmp.Compare(b.area, a.area) })
	enough := float64(least) * (1 - 1e-9) // half a field is half a field, however its zones were added up
	for _, l := range lots {
		var next []sumOf
		for _, s := range sums {
			with := sumOf{s.area + float64(l.area), s.chance * l.chance}
			if with.area >= enough {
				sure += with.chance
			} else if with.chance > 0 {
				next = append(next, with)
			}
			if without := s.chance * (1 - l.chance); without > 0 {
				next = append(next, sumOf{s.area, without})
			}
		}
		sums = thinned(next)
	}
	if enough <= 0 {
		return 1
	}
	return math.Min(sure, 1)
}

// thinned takes neighbours together until few enough are left.
func thinned(sums []sumOf) []sumOf {
	if len(sums) <= mostSums {
		return sums
	}
	slices.SortFunc(sums, func(a, b sumOf) int { return cmp.Or(cmp.Compare(a.area, b.area), cmp.Compare(a.chance, b.chance)) })
	out := sums[:0]
	for i := 0; i < len(sums); i += 2 {
		s := sums[i]
		if i+1 < len(sums) {
			n := sums[i+1]
			all := s.chance + n.chance
			s = sumOf{(s.area*s.chance + n.area*n.chance) / all, all}
		}
		out = append(out, s)
	}
	return out
}
