package arrange

import (
	"fmt"
	"slices"
)

// Gaps returns the ground inside frame that no layer covers. A nil frame means what all layers together surround: then
// gaps are the holes of the coverage.
func Gaps(frame []Polygon, layers [][]Polygon) []Polygon {
	covered := Union(layers...)
	if frame == nil {
		for _, p := range covered {
			frame = append(frame, p[:1])
		}
	}
	return Difference(frame, covered)
}

// Doubled is ground that several layers cover.
type Doubled struct {
	Layers []int // indices of the layers, rising; at least two, or the same one twice where its own parts overlap
	Ground []Polygon
}

// Overlaps returns the ground that is covered more than once, by the set of layers that cover it, in order of these
// sets.
func Overlaps(layers [][]Polygon) []Doubled {
	lb := covering(layers)
	var sets []Doubled
	class := map[string]int32{} // set of layers → its place in sets
	classes := func(v []wind) []int32 {
		set := covers(v)
		if len(set) < 2 {
			return nil
		}
		key := fmt.Sprint(set)
		k, ok := class[key]
		if !ok {
			k = int32(len(sets))
			class[key] = k
			sets = append(sets, Doubled{Layers: set})
		}
		return []int32{k}
	}
	for _, v := range lb.winds.vecs {
		classes(v) // finds the sets; some vectors belong to edges only
	}
	for k, parts := range lb.split(len(sets), classes) {
		sets[k].Ground = parts
	}
	sets = slices.DeleteFunc(sets, func(d Doubled) bool { return len(d.Ground) == 0 })
	slices.SortFunc(sets, func(d, e Doubled) int { return slices.Compare(d.Layers, e.Layers) })
	return sets
}

// covers returns the layers that wind more than zero times, once for each time.
func covers(v []wind) (set []int) {
	for _, w := range v {
		for range w.count {
			set = append(set, int(w.layer))
		}
	}
	return set
}
