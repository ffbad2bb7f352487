package lab

import (
	"fmt"
	"slices"
	"strings"

	"rootworthy/soils/unit"
)

// Layer is a depth that samples share.
type Layer struct {
	Top, Bottom unit.Opt[unit.Depth] // missing when the samples do not say
	Samples     []int                // indices, in the order of the file
}

// String says the layer and how many samples have it.
func (l Layer) String() string {
	top, _ := l.Top.Get()
	bottom, ok := l.Bottom.Get()
	words := "depth not stated"
	if ok {
		words = fmt.Sprintf("%s to %s cm", short(float64(top)), short(float64(bottom)))
	}
	if len(l.Samples) == 1 {
		return words + ": 1 sample"
	}
	return fmt.Sprintf("%s: %d samples", words, len(l.Samples))
}

// Layers groups samples by the layer they were dug from, shallowest first; samples that do not say their depth come last.
func Layers(samples []Sample) []Layer {
	var out []Layer
	index := map[[2]unit.Opt[unit.Depth]]int{}
	for i, s := range samples {
		// missing is a key like any other: samples without a depth make one layer
		key := [2]unit.Opt[unit.Depth]{s.Top, s.Bottom}
		at, ok := index[key]
		if !ok {
			at = len(out)
			index[key] = at
			out = append(out, Layer{Top: s.Top, Bottom: s.Bottom})
		}
		out[at].Samples = append(out[at].Samples, i)
	}
	slices.SortStableFunc(out, func(a, b Layer) int {
		// the top decides, the bottom only among equal tops: both are -1, 0 or 1
		return compareDepth(a.Top, b.Top)*2 + compareDepth(a.Bottom, b.Bottom)
	})
	return out
}

// compareDepth orders depths, missing ones last.
func compareDepth(a, b unit.Opt[unit.Depth]) int {
	// deeper than any layer that is read
	const below = deepest + 1
	switch x, y := a.Or(below), b.Or(below); {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

// Overlap returns the thickness that the sample's layer shares with the layer from top to bottom; ok is false when the
// sample does not say its layer. A sample of 0 to 15 cm says nothing about 30 to 60.
func (s *Sample) Overlap(top, bottom unit.Depth) (shared unit.Depth, ok bool) {
	from, okTop := s.Top.Get()
	to, okBottom := s.Bottom.Get()
	if !okTop || !okBottom {
		return 0, false
	}
	// layers that only touch, or lie apart, share nothing
	return max(0, min(to, bottom)-max(from, top)), true
}

// short prints a figure to two decimals at most.
func short(v float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", v), "0"), ".")
}
