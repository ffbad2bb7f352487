package arrange

import (
	"github.com/paulmach/orb"
)

// finer is how many times finer than the grid of writing corners are read by [CoverRounded]: 1e-10 degrees (0.01 mm)
// for a grid of 1e-7 degrees.
const finer = 1024

// Cover nodes several sets of polygons together (the zones of a field) and returns each set again: valid, and so that
// neighbours share every point of a shared line. Sets that tile the ground before tile it afterwards.
//
// Where a line of one set passes within half a grid unit of a corner of another, it is led through that corner; so
// gaps and overlaps thinner than that vanish, wider ones stay as they are.
func Cover(layers [][]Polygon) [][]Polygon {
	return covering(layers).split(len(layers), layersAbove)
}

// covering labels several sets, each as a layer.
func covering(layers [][]Polygon) *labelled {
	l := newLines()
	for i, parts := range layers {
		l.addPolygons(parts, i)
	}
	return l.must()
}

// CoverRounded is [Cover] for polygons in degrees or metres that go to a coarser grid, such as 1e-7 degrees for
// writing. Corners are not just rounded one by one (lines could then cross); the whole coverage is snap rounded, so
// that sets that tile the ground still tile it on the coarser grid. Parts thinner than the grid vanish: an empty
// multipolygon stands for a set of which nothing is left. ok is false if a coordinate is not finite or too far out.
//
// It is quickest if the first layer is the whole ground, which the others tile with all corners shared.
func CoverRounded(layers []orb.MultiPolygon, step float64) (rounded []orb.MultiPolygon, ok bool) {
	s := newScale(step)
	lb, ok := framed(layers, s)
	if !ok {
		l := newLines()
		if !l.addDrawn(layers, scale{perUnit: s.perUnit * finer}) {
			return nil, false
		}
		l.merge()
		coarse, _ := l.node(grid{size: finer}, 0) // the only error is exceeding the limit
		lb = coarse.noded()
	}
	for _, parts := range lb.split(len(layers), layersAbove) {
		rounded = append(rounded, ToOrb(parts, step))
	}
	return rounded, true
}

// framed rounds all corners one by one, which takes a third of the time of snap rounding and mostly will do. ok says that it
// does: no lines cross, and every face is either outside everything or in the first layer and exactly one other. That
// is a tiling, and nothing else need be shown of it.
func framed(layers []orb.MultiPolygon, s scale) (lb *labelled, ok bool) {
	l := newLines()
	if !l.addDrawn(layers, s) {
		return nil, false
	}
	l.merge()
	lb, ok = l.sweep()
	if !ok {
		return nil, false
	}
	fine := make([]bool, len(l.winds.vecs))
	for i, v := range l.winds.vecs {
		fine[i] = i == 0 || len(v) == 2 && v[0] == wind{0, 1} && v[1].count == 1
	}
	for e := range lb.edges {
		if !fine[lb.under[e]] || !fine[lb.over[e]] {
			return nil, false
		}
	}
	return lb, true
}

// addDrawn adds drawn polygons as a layer each. ok is false if a coordinate is not finite or too far out.
func (l *lines) addDrawn(layers []orb.MultiPolygon, s scale) (ok bool) {
	for i, mp := range layers {
		for _, p := range mp {
			for _, r := range p {
				ring, lost := s.ring(r)
				if lost > 0 {
					return false
				}
				l.addRing(ring, i) // the closing point makes no edge
			}
		}
	}
	return true
}
