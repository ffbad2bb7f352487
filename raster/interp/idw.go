package interp

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// IDW estimates values by inverse distance. Several may use one at once.
//
//	value = Σ z/h^power / Σ 1/h^power
//
// Source: Isaaks and Srivastava 1989, An Introduction to Applied Geostatistics, chapter 11 (form from memory, not
// checked). At a point itself the value is the point's.
type IDW struct {
	tree  *tree
	power float64
	k     int
}

// NewIDW returns inverse distance from points; power 0 means 2, neighbours 0 means [DefaultNeighbours].
func NewIDW(samples []Sample, power float64, neighbours int) (*IDW, error) {
	points, _, err := place(samples, 0)
	if err != nil {
		return nil, err
	}
	if len(points) == 0 {
		return nil, errNoPoints
	}
	if !(power >= 0 && power <= mostPower) {
		return nil, errPower
	}
	return newIDW(points, power, neighbours), nil
}

const mostPower = 10 // beyond it the nearest point alone counts

func newIDW(points []Sample, power float64, neighbours int) *IDW {
	if power == 0 {
		power = 2
	}
	return &IDW{newTree(points), power, many(neighbours)}
}

// At returns the estimate at a place.
func (d *IDW) At(p orb.Point) float64 { return d.without(p, -1) }

// without estimates with one point left out, -1 for none.
func (d *IDW) without(p orb.Point, index int32) float64 {
	hits := d.tree.nearest(p, d.k, index, nil)
	slices.SortFunc(hits, func(a, b hit) int { return cmp.Compare(a.i, b.i) }) // sums are the same to the last bit whoever asks
	return d.from(hits)
}

// from weighs hits in their order.
func (d *IDW) from(hits []hit) float64 {
	// the nearest is looked for, since hits stand by index
	near := hits[0]
	for _, h := range hits[1:] {
		if h.closer(near) {
			near = h
		}
	}
	first := d.tree.points[near.i].Value
	if near.d2 == 0 {
		return first
	}
	sum, weights := 0.0, 0.0
	for _, h := range hits {
		w := near.d2 / h.d2 // relative to the nearest: no power of a small distance overflows
		if d.power != 2 {
			// distances are squared already
			w = math.Pow(w, d.power/2)
		}
		weights += w
		// differences from the nearest: where all are alike the estimate is so to the last bit
		sum += w * (d.tree.points[h.i].Value - first)
	}
	return first + sum/weights
}
