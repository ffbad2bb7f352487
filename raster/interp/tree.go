package interp

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// tree is a k-d tree of points: the middle of each span splits it by x and y in turn.
type tree struct {
	points []Sample
	order  []int32 // indices of points
}

// newTree builds the tree in place, over the indices alone.
func newTree(points []Sample) *tree {
	t := &tree{points, make([]int32, len(points))}
	for i := range t.order {
		t.order[i] = int32(i)
	}
	t.split(t.order, 0)
	return t
}

// split sorts a span by an axis and its halves by the other.
func (t *tree) split(span []int32, axis int) {
	if len(span) < 2 {
		return
	}
	slices.SortFunc(span, func(a, b int32) int {
		// by index where equal, so that the tree is one and the same for the same points
		return cmp.Or(cmp.Compare(t.points[a].At[axis], t.points[b].At[axis]), cmp.Compare(a, b))
	})
	m := len(span) / 2
	// the middle itself is the node; the halves are its children
	t.split(span[:m], 1-axis)
	t.split(span[m+1:], 1-axis)
}

// hit is a point with its squared distance.
type hit struct {
	d2 float64
	i  int32
}

// closer orders hits by distance, then by index, so that ties fall the same way everywhere.
func (a hit) closer(b hit) bool { return a.d2 < b.d2 || a.d2 == b.d2 && a.i < b.i }

// square is the squared distance, which orders points as the distance does.
func square(a, b orb.Point) float64 {
	dx, dy := a[0]-b[0], a[1]-b[1]
	return dx*dx + dy*dy
}

// nearest returns the k points closest to p but for one that is left out (-1 for none), closest first, in hits.
func (t *tree) nearest(p orb.Point, k int, without int32, hits []hit) []hit {
	hits = hits[:0]
	var visit func(span []int32, axis int)
	visit = func(span []int32, axis int) {
		if len(span) == 0 {
			return
		}
		m := len(span) / 2
		i := span[m]
		if h := (hit{square(p, t.points[i].At), i}); i != without && (len(hits) < k || h.closer(hits[len(hits)-1])) {
			if len(hits) == k {
				hits = hits[:k-1]
			}
			at, _ := slices.BinarySearchFunc(hits, h, func(a, b hit) int {
				if a.closer(b) {
					return -1
				}
				return 1
			})
			hits = slices.Insert(hits, at, h)
		}
		off := p[axis] - t.points[i].At[axis]
		first, second := span[:m], span[m+1:]
		// the side of the target first: what it finds may spare the other
		if off > 0 {
			first, second = second, first
		}
		visit(first, 1-axis)
		// equal counts: at the same distance a smaller index may wait there
		if len(hits) < k || off*off <= hits[len(hits)-1].d2 {
			visit(second, 1-axis)
		}
	}
	if k > 0 {
		visit(t.order, 0)
	}
	return hits
}

// within appends the points up to a distance from p, by index.
func (t *tree) within(p orb.Point, reach float64, out []int32) []int32 {
	var visit func(span []int32, axis int)
	visit = func(span []int32, axis int) {
		if len(span) == 0 {
			return
		}
		m := len(span) / 2
		at := t.points[span[m]].At
		if square(p, at) <= reach*reach {
			out = append(out, span[m])
		}
		if p[axis]-reach <= at[axis] {
			visit(span[:m], 1-axis)
		}
		if p[axis]+reach >= at[axis] {
			visit(span[m+1:], 1-axis)
		}
	}
	visit(t.order, 0)
	slices.Sort(out)
	return out
}

// byIndex returns points in the order of their index.
func (t *tree) byIndex(indices []int32) []Sample {
	slices.Sort(indices)
	out := make([]Sample, len(indices))
	for i, index := range indices {
		out[i] = t.points[index]
	}
	return out
}
