package field

import (
	"cmp"
	"math"
	"slices"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
	"rootworthy/soils/unit"
)

// finding is what a quick look at two fields shows.
type finding uint8

const (
	apart       finding = iota // less common ground than is worth telling
	overlapping                // more
	unsure                     // too near to call, or too much to look at: the exact area decides
)

// mostLooks bounds the pairs of edges of one look; beyond it the arrangement of the lines is no dearer.
const mostLooks = 1 << 20

// look decides whether two fields share enough ground to be told, by their area between straight lines in longitude and
// latitude, scaled at the middle of the ground that they can share. What it may be off by is [slack].
func look(a, b []edge, boxA, boxB geo.Box) finding {
	common := geo.Box{X0: max(boxA.X0, boxB.X0), Y0: max(boxA.Y0, boxB.Y0), X1: min(boxA.X1, boxB.X1), Y1: min(boxA.Y1, boxB.Y1)}
	wide, high, scale := metres(common)
	if wide*high < float64(minOverlap)/2 { // half, for the sphere is not the ellipsoid
		return apart
	}
	cells, ok := commonArea(a, b, common, min(boxA.Y0, boxB.Y0))
	if !ok {
		return unsure
	}
	area := unit.Area(cells * scale)
	switch off := slack(area, common, math.Hypot(wide, high)); {
	// Only a verdict that stands whatever the error may be is taken; the rest go to the exact area.
	case area-off > minOverlap:
		return overlapping
	case area+off < minOverlap:
		return apart
	}
	return unsure
}

// earth is the radius of the sphere as large as the ellipsoid, in metres (WGS 84). Areas by it are right to 1 %: the radii of
// curvature of the ellipsoid differ from it by 0.4 % at most, each way.
const earth = 6_371_008.8

// metres returns the sides of a box in metres and the square metres of a cell of the grid in its middle.
func metres(b geo.Box) (wide, high, cell float64) {
	up := step * math.Pi / 180 * earth
	along := up * math.Cos(float64(b.Y0+b.Y1)/2*step*math.Pi/180)
	return float64(b.X1-b.X0) * along, float64(b.Y1-b.Y0) * up, up * along
}

// slack is how far an area by [look] may be from that by [overlap]: by the sphere, and because that takes edges as
// geodesics, which bend away from straight lines of longitude and latitude. An edge of L metres bends by tan(latitude) L²/8R
// at its middle, which is an area of tan(latitude) L³/12R; twelve edges across the whole box are allowed for.
func slack(area unit.Area, common geo.Box, across float64) unit.Area {
	bend := math.Abs(math.Tan(float64(common.Y0+common.Y1)/2*step*math.Pi/180)) * across * across * across / earth
	return area/100 + unit.Area(bend)
}

// edge is an edge of a shape, from its left end to its right; up is 1 where the ground lies under it and -1 where it lies over it.
type edge struct {
	l, r geo.Pt
	up   float64
}

// edgesOf lists the edges of a valid shape by their left ends. Upright ones have nothing under them.
func edgesOf(parts []arrange.Polygon) []edge {
	n := 0
	for _, part := range parts {
		for _, ring := range part {
			n += len(ring)
		}
	}
	out := make([]edge, 0, n)
	for _, part := range parts {
		for _, ring := range part {
			p := ring[len(ring)-1]
			for _, q := range ring { // ground lies on the left: under an edge that runs to the left
				switch {
				case p.X > q.X:
					out = append(out, edge{q, p, 1})
				case p.X < q.X:
					out = append(out, edge{p, q, -1})
				}
				p = q
			}
		}
	}
	slices.SortFunc(out, func(d, e edge) int { return cmp.Compare(d.l.X, e.l.X) })
	return out
}

// commonArea returns the area that two valid shapes share, in cells of the grid, over the columns of a box that holds it. Nothing
// is built for it: a shape is the sum, with signs, of what lies under its edges down to a floor below everything, so the common
// ground of two shapes is the sum over pairs of edges of what lies under both, which is a trapezoid or two. Signs make everything
// else cancel, and no case is special: shared edges, touching corners, holes and parts need no thought. ok is false when there are
// too many pairs.
func commonArea(a, b []edge, common geo.Box, floor int64) (cells float64, ok bool) {
	// On the stack: a look that never has more edges open at once allocates nothing, and there are as many looks as pairs.
	var room [32]*edge // of b: those that may still reach edges of a, which come from left to right
	open, looks, next := room[:0], 0, 0
	for i := range a {
		e := &a[i]
		if e.l.X >= common.X1 {
			break
		}
		if e.r.X <= common.X0 {
			continue
		}
		for right := min(e.r.X, common.X1); next < len(b) && b[next].l.X < right; next++ {
			if b[next].r.X > common.X0 {
				open = append(open, &b[next])
			}
		}
		// The sweep has no tree of edges: two outlines of thousands of corners each would be compared corner by corner.
		if looks += len(open); looks > mostLooks {
			return 0, false
		}
		// Edges of b that end left of this edge of a end left of all later ones too, and are dropped as the list is walked.
		still := open[:0]
		for _, u := range open {
			if u.r.X > e.l.X {
				still = append(still, u)
				cells += e.up * u.up * underBoth(e, u, common, floor)
			}
		}
		open = still
	}
	return cells, true
}

// underBoth is the area under two edges at once, down to the floor, within the columns of the box: beyond them lies no common ground,
// and pairs there were left out.
func underBoth(d, e *edge, common geo.Box, floor int64) float64 {
	l, r := max(d.l.X, e.l.X, common.X0), min(d.r.X, e.r.X, common.X1)
	if l >= r {
		return 0
	}
	dl, dr, el, er := d.over(floor, l), d.over(floor, r), e.over(floor, l), e.over(floor, r)
	before, after := dl-el, dr-er
	if (before < 0) == (after < 0) { // one lies under the other all the way
		return float64(r-l) * (min(dl, el) + min(dr, er)) / 2
	}
	t := before / (before - after) // where they cross, as a share of the way
	y := dl + t*(dr-dl)
	return float64(r-l) * (t*(min(dl, el)+y) + (1-t)*(y+min(dr, er))) / 2
}

// over is how high the edge lies over the floor in a column. Differences are taken between whole numbers, so that float64 loses
// nothing of them.
func (e *edge) over(floor, x int64) float64 {
	return float64(e.l.Y-floor) + float64(x-e.l.X)*float64(e.r.Y-e.l.Y)/float64(e.r.X-e.l.X)
}
