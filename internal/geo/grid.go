package geo

import (
	"cmp"
	"math"
)

// PlaneStep is the grid of the working plane, in metres: a tenth of a millimetre. An area moves by at most
// 0.05 mm × perimeter, far below what a survey line means on the ground.
const PlaneStep = 1e-4

// maxUnit bounds grid coordinates so that differences of two stay inside 62 bits.
const maxUnit = 1 << 60

// Pt is a point in whole grid units.
type Pt struct{ X, Y int64 }

// Less orders points by X, then Y: the canonical direction of an edge goes from the lesser end to the greater.
func (p Pt) Less(q Pt) bool { return p.X < q.X || p.X == q.X && p.Y < q.Y }

// Compare orders points by X, then Y.
func (p Pt) Compare(q Pt) int {
	if p.X != q.X {
		return cmp.Compare(p.X, q.X)
	}
	return cmp.Compare(p.Y, q.Y)
}

// Snap rounds v·perUnit to the nearest whole number, ties to even; perUnit is grid units per unit of v (10,000 for
// metres on PlaneStep). Equal inputs snap equally, so shared vertices stay shared. ok is false for NaN, infinities
// and numbers off the grid.
func Snap(v, perUnit float64) (u int64, ok bool) {
	r := math.RoundToEven(v * perUnit)
	if !(math.Abs(r) <= maxUnit) { // also refuses NaN
		return 0, false
	}
	return int64(r), true
}
