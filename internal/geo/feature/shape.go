package feature

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Ready returns the shape as most formats want it: rings closed, outer rings counter-clockwise, holes clockwise, parts
// without rings left out. The shape itself is not changed. The error names a corner that is no number and a ring with
// fewer than three corners.
func Ready(shape orb.MultiPolygon) (orb.MultiPolygon, error) {
	out := make(orb.MultiPolygon, 0, len(shape))
	for _, part := range shape {
		if len(part) == 0 {
			continue
		}
		rings := make(orb.Polygon, len(part))
		for i, r := range part {
			var err error
			if rings[i], err = readyRing(r, i == 0); err != nil {
				return nil, err
			}
		}
		out = append(out, rings)
	}
	return out, nil
}

// readyRing returns the ring itself where it is ready, else a copy.
func readyRing(r orb.Ring, outer bool) (orb.Ring, error) {
	for _, p := range r {
		if !finite(p[0]) || !finite(p[1]) {
			return nil, fmt.Errorf("a corner at %v, %v is no place", p[0], p[1])
		}
	}
	closed := len(r) > 0 && r[0] == r[len(r)-1]
	if len(r) < 3 || closed && len(r) < 4 {
		return nil, fmt.Errorf("a ring has %d points, which surround nothing", len(r))
	}
	// A ring without area has no direction, and stays as it is.
	turn := area2(r) != 0 && area2(r) > 0 != outer
	// Not copied: nearly all rings come ready, and writers do not change them.
	if closed && !turn {
		return r, nil
	}
	r = slices.Clone(r)
	if !closed {
		r = append(r, r[0])
	}
	if turn {
		slices.Reverse(r)
	}
	return r, nil
}

func finite(v float64) bool { return math.Abs(v) <= math.MaxFloat64 }

// area2 returns twice the signed area, summed relative to the first point to keep digits.
func area2(r orb.Ring) float64 {
	sum := 0.0
	for i := 1; i+1 < len(r); i++ {
		sum += (r[i][0]-r[0][0])*(r[i+1][1]-r[0][1]) - (r[i+1][0]-r[0][0])*(r[i][1]-r[0][1])
	}
	return sum
}

// Bound returns the box of all corners; ok is false when there are none.
func Bound(shape orb.MultiPolygon) (b orb.Bound, ok bool) {
	for _, part := range shape {
		for _, r := range part {
			for _, p := range r {
				if !ok {
					b, ok = orb.Bound{Min: p, Max: p}, true
				}
				b = b.Extend(p)
			}
		}
	}
	return b, ok
}
