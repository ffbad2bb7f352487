package interp

import (
	"github.com/paulmach/orb"
)

// DefaultNeighbours is how many of the nearest points an estimate is made from. Farther ones stand in their shadow and
// change it by less than the fit of the variogram does.
// Source: proposal.
const DefaultNeighbours = 32

// Kriging estimates values by ordinary kriging. Several may use one at once.
type Kriging struct {
	v    Variogram
	tree *tree
	k    int
	all  *system // of all points, where they are few enough to be always used together
}

// NewKriging returns kriging from points at different places with a variogram, from the nearest neighbours of each target;
// 0 neighbours means [DefaultNeighbours], and all points are used where they are no more. An error says what of the
// variogram or the points is not possible.
func NewKriging(samples []Sample, v Variogram, neighbours int) (*Kriging, error) {
	if err := v.Check(); err != nil {
		return nil, err
	}
	points, _, err := place(samples, 0)
	if err != nil {
		return nil, err
	}
	if len(points) == 0 {
		return nil, errNoPoints
	}
	return newKriging(points, v, neighbours), nil
}

// newKriging is NewKriging for points that were placed already.
func newKriging(points []Sample, v Variogram, neighbours int) *Kriging {
	k := &Kriging{v: v, tree: newTree(points), k: many(neighbours)}
	// Every target would use them all, so they are solved once.
	if len(points) <= k.k {
		k.all = newSystem(v, points)
	}
	return k
}

// many brings the number of neighbours into its bounds.
func many(neighbours int) int {
	if neighbours < 1 {
		return DefaultNeighbours
	}
	return min(neighbours, mostNeighbours)
}

// mostNeighbours bounds the work: time grows with the third power.
const mostNeighbours = 200

// At returns the estimate at a place and its kriging variance.
func (k *Kriging) At(p orb.Point) (value, variance float64) { return k.without(p, -1) }

// without estimates with one point left out.
func (k *Kriging) without(p orb.Point, index int32) (value, variance float64) {
	// with a point left out the system is another one
	if k.all != nil && index < 0 {
		return k.all.at(p, make([]float64, len(k.all.points)))
	}
	hits := k.tree.nearest(p, k.k, index, nil)
	s := newSystem(k.v, k.tree.pick(hits))
	return s.at(p, make([]float64, len(hits)))
}

// pick returns the points of hits, by index.
func (t *tree) pick(hits []hit) []Sample {
	chosen := make([]int32, len(hits))
	for i, h := range hits {
		chosen[i] = h.i
	}
	return t.byIndex(chosen)
}
