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
// writing. Corners are not rounded one by one (lines could then cross); instead the whole coverage is snap rounded,
// so that sets that tile the ground still tile it on the coarser grid. Parts thinner than the grid vanish: an empty
// multipolygon stands for a set of which nothing is left. ok is false if a coordinate is not finite or too far out.
func CoverRounded(layers []orb.MultiPolygon, step float64) (rounded []orb.MultiPolygon, ok bool) {
	fine := newScale(step)
	fine.perUnit *= finer
	l := newLines()
	for i, mp := range layers {
		for _, p := range mp {
			for _, r := range p {
				ring, lost := fine.ring(r)
				if lost > 0 {
					return nil, false
				}
				l.addRing(ring, i) // the closing point is skipped as a repeated one
			}
		}
	}
	l.merge()
	coarse, _ := l.node(grid{size: finer}, 0) // the only error is exceeding the limit
	for _, parts := range coarse.noded().split(len(layers), layersAbove) {
		rounded = append(rounded, ToOrb(parts, step))
	}
	return rounded, true
}
