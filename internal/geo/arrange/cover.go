package arrange

import "github.com/paulmach/orb"

// Cover nodes several sets of polygons together (the zones of a field) and returns each set again: valid, and so that
// neighbours share every point of a shared line. Sets that tile the ground before tile it afterwards.
func Cover(layers [][]Polygon) [][]Polygon { return nil }

// CoverRounded is Cover for polygons in degrees or metres that go to a coarser grid, such as 1e-7 degrees for
// writing. Corners are not rounded one by one (lines could then cross); instead the whole coverage is snap rounded, so
// that sets that tile the ground still tile it on the coarser grid. Parts thinner than the grid vanish. ok is false if a
// coordinate is not finite or too far out.
func CoverRounded(layers []orb.MultiPolygon, step float64) (rounded []orb.MultiPolygon, ok bool) {
	return nil, false
}

// Gaps returns the ground inside frame that no layer covers. A nil frame means the outer rings of all layers together,
// so that gaps are what the coverage surrounds and misses.
func Gaps(frame []Polygon, layers [][]Polygon) []Polygon { return nil }

// Doubled is ground that several layers cover.
type Doubled struct {
	Layers []int // indices of the layers, rising; at least two
	Ground []Polygon
}

// Overlaps returns the ground that more than one layer covers, by the set of layers that do, in order of these sets.
func Overlaps(layers [][]Polygon) []Doubled { return nil }

// Simplify thins out the lines of a coverage for drawing: corners whose triangle with their neighbours is smaller
// than tolerance² grid units² go, smallest first. Lines that layers share are thinned alike, corners where three lines meet stay,
// and no line ever jumps over a corner, so neighbours stay neighbours and islands stay where they are. Not for areas.
func Simplify(layers [][]Polygon, tolerance float64) [][]Polygon { return nil }
