package shapefile

import (
	"cmp"
	"math"
	"slices"
)

// nestBudget bounds the work of sorting one record's rings, in boxes and edges looked at: a fifth of a second. A record
// of 40,000 vertices with hundreds of holes needs a third of it; past it, the direction of the rings decides alone.
const nestBudget = 60_000_000

// nest finds for each ring the smallest ring around it and marks holes: rings inside an odd number of others.
func nest(rings []ring) {
	bySize := make([]int, 0, len(rings)) // largest first; rings without area take no part
	for i, r := range rings {
		// A ring without area has no inside that could hold another, and no direction that could be believed.
		if r.area2 != 0 && !math.IsNaN(r.area2) && !math.IsInf(r.area2, 0) {
			bySize = append(bySize, i)
		}
	}
	slices.SortStableFunc(bySize, func(a, b int) int { return cmp.Compare(math.Abs(rings[b].area2), math.Abs(rings[a].area2)) })
	depth := make([]int, len(rings))
	// Counted and not timed, so that the same file gives the same shapes on every machine.
	budget := nestBudget
	for k, i := range bySize {
		for _, j := range slices.Backward(bySize[:k]) { // smallest first: the first found is the parent
			// Looking at a box costs as well: ten thousand islands side by side are fifty million pairs of boxes.
			budget--
			if rings[j].box.holds(rings[i].box) && rings[j].contains(&rings[i], &budget) {
				rings[i].parent, depth[i] = j, depth[j]+1
				break
			}
			if budget < 0 {
				// Half a nesting is worse than none: rings already placed would be judged by another rule than the rest.
				believeAll(rings)
				return
			}
		}
		// an island in a lake on an island: 0 outer, 1 hole, 2 outer again
		rings[i].hole = depth[i]%2 == 1
	}
}

// believeAll takes clockwise rings as outer and the others as holes of the outer ring stored last before them.
func believeAll(rings []ring) {
	outer := -1
	for i := range rings {
		r := &rings[i]
		// A counter-clockwise ring before any outer one has nothing to be a hole in, and is kept as ground: ground shown
		// that is not there is seen on the map, ground lost is not.
		if r.hole = r.area2 > 0 && outer >= 0; r.hole {
			r.parent = outer
		} else {
			outer = i
		}
	}
}

// contains tells whether r, which is larger, holds in: by the first corner of in that is not on r's line; when all
// are, by the middle of its edges. Two equal rings do not hold each other.
func (r *ring) contains(in *ring, budget *int) bool {
	for i := 0; i+1 < len(in.xy); i += 2 {
		if side := r.side(in.xy[i], in.xy[i+1], budget); side != 0 {
			return side > 0
		}
	}
	for i := 0; i+3 < len(in.xy); i += 2 {
		// All corners of a hole may touch the ring around it, and its edges still run inside.
		if side := r.side((in.xy[i]+in.xy[i+2])/2, (in.xy[i+1]+in.xy[i+3])/2, budget); side != 0 {
			return side > 0
		}
	}
	return false
}

// side returns 1 when the point lies inside r, -1 outside, 0 on its line. Corners shared by two rings have equal
// coordinates, so plain floating point finds them on the line. With the budget spent it says outside.
func (r *ring) side(x, y float64, budget *int) int {
	if *budget < 0 {
		return -1
	}
	*budget -= len(r.xy) / 2
	inside := false
	for i := 0; i+3 < len(r.xy); i += 2 {
		ax, ay, bx, by := r.xy[i], r.xy[i+1], r.xy[i+2], r.xy[i+3]
		// edges wholly above or below the point neither cross its ray nor touch it
		if (ay > y && by > y) || (ay < y && by < y) {
			continue
		}
		// Twice the area of edge and point: positive where the point lies left of the edge, 0 on its line.
		cross := (bx-ax)*(y-ay) - (by-ay)*(x-ax)
		if cross == 0 && min(ax, bx) <= x && x <= max(ax, bx) {
			return 0
		}
		// Half-open in y, so that a ray through a corner counts its two edges once and not twice.
		if (ay > y) != (by > y) && (cross > 0) == (by > ay) {
			inside = !inside
		}
	}
	if inside {
		return 1
	}
	return -1
}
