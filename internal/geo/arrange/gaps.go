package arrange

import (
	"fmt"
	"slices"

	"rootworthy/internal/geo"
)

// Gaps returns the ground inside frame that no layer covers. A nil frame means what the layers together surround: gaps
// are then all uncovered ground but that which reaches out without end.
func Gaps(frame []Polygon, layers [][]Polygon) []Polygon {
	around := frame == nil
	if around {
		b := geo.NoBox()
		for _, parts := range layers {
			for _, p := range parts {
				b.Grow(boxOfPart(p))
			}
		}
		if b.X0 > b.X1 {
			return nil
		}
		// A frame one unit larger than everything: what is uncovered inside it and reaches its edge is the outside, and all of
		// that hangs together.
		frame = []Polygon{{{
			{X: b.X0 - 1, Y: b.Y0 - 1}, {X: b.X1 + 1, Y: b.Y0 - 1}, {X: b.X1 + 1, Y: b.Y1 + 1}, {X: b.X0 - 1, Y: b.Y1 + 1},
		}}}
	}
	// All layers are one here: what they cover once or ten times is no gap.
	l := newLines()
	l.addPolygons(frame, 0)
	for _, parts := range layers {
		l.addPolygons(parts, 1)
	}
	gaps := l.must().ground(func(v []wind) bool { return above(v, 0) && !above(v, 1) })
	if around {
		gaps = gaps[1:] // the first has the least point of all, the corner of the frame
	}
	return gaps
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
