package shapefile

import (
	"slices"

	"github.com/paulmach/orb"
)

// MultiPolygon sorts the rings into parts and holes: outer rings counter-clockwise and first, holes clockwise behind
// the outer ring they lie in, both in the order they are stored; every coordinate as stored.
//
// The format says that outer rings run clockwise and holes counter-clockwise. That is believed only where it cannot
// be wrong by much: a single ring, or one clockwise ring whose box holds all the others. Else rings are nested by
// containment: a ring inside an even number of others is outer, one inside an odd number is a hole of the smallest
// of them. So files that turn all rings one way, or all the wrong way, come out right. Rings without an area, and
// rings that cross each other, are kept for the repair that follows.
func (r *Rings) MultiPolygon() orb.MultiPolygon {
	rings := make([]ring, 0, r.Len())
	for _, xy := range r.All() {
		// an empty ring is left out here, not in parse: the places of the parts must hold until then
		if len(xy) > 0 {
			rings = append(rings, newRing(xy))
		}
	}
	switch {
	case len(rings) == 0:
		return nil
	case len(rings) == 1:
	// The look at every box is cheap beside nesting, and nearly all files pass it.
	case !believable(rings):
		nest(rings)
	}
	return assemble(rings)
}

// ring is one ring while its place is sought.
type ring struct {
	xy     []float64
	area2  float64 // doubled, positive when counter-clockwise
	box    box
	parent int // the smallest ring around it, -1 when none
	hole   bool
}

// newRing measures a ring once; nesting asks for area and box again and again.
func newRing(xy []float64) ring {
	return ring{xy: xy, area2: doubleArea(xy), box: boxOf(xy), parent: -1}
}

// doubleArea returns twice the signed area, summed relative to the first point to keep digits.
func doubleArea(xy []float64) float64 {
	// In metres of a projection coordinates have seven digits before the point, and their products lose what a small
	// field is made of.
	x0, y0 := xy[0], xy[1]
	sum := 0.0
	for i := 2; i+3 < len(xy); i += 2 {
		sum += (xy[i]-x0)*(xy[i+3]-y0) - (xy[i+2]-x0)*(xy[i+1]-y0)
	}
	return sum
}

// box is the least upright rectangle around a ring.
type box struct{ x0, y0, x1, y1 float64 }

func boxOf(xy []float64) box {
	b := box{xy[0], xy[1], xy[0], xy[1]}
	for i := 2; i+1 < len(xy); i += 2 {
		b.x0, b.x1 = min(b.x0, xy[i]), max(b.x1, xy[i])
		b.y0, b.y1 = min(b.y0, xy[i+1]), max(b.y1, xy[i+1])
	}
	return b
}

func (b box) holds(c box) bool { return b.x0 <= c.x0 && b.y0 <= c.y0 && b.x1 >= c.x1 && b.y1 >= c.y1 }

// believable takes the plain case as the format has it: one clockwise ring, all others turned the other way and
// inside its box. It marks them and reports whether that was so.
func believable(rings []ring) bool {
	outer := -1
	for i, r := range rings {
		if r.area2 < 0 {
			if outer >= 0 {
				return false
			}
			outer = i
		}
	}
	if outer < 0 {
		return false
	}
	for i, r := range rings {
		if i != outer && !(r.area2 > 0 && rings[outer].box.holds(r.box)) {
			return false
		}
	}
	for i := range rings {
		if i != outer {
			rings[i].hole, rings[i].parent = true, outer
		}
	}
	return true
}

// assemble builds the parts. Only holes use their parent, which is then an outer ring.
func assemble(rings []ring) orb.MultiPolygon {
	// place of each outer ring among the parts
	place := make([]int, len(rings))
	var out orb.MultiPolygon
	for i, r := range rings {
		if !r.hole {
			place[i] = len(out)
			out = append(out, orb.Polygon{r.points(true)})
		}
	}
	for _, r := range rings {
		if r.hole {
			at := place[r.parent]
			out[at] = append(out[at], r.points(false))
		}
	}
	return out
}

// points returns the ring as points, counter-clockwise or clockwise.
func (r ring) points(ccw bool) orb.Ring {
	out := make(orb.Ring, len(r.xy)/2)
	for i := range out {
		out[i] = orb.Point{r.xy[2*i], r.xy[2*i+1]}
	}
	if r.area2 != 0 && (r.area2 > 0) != ccw {
		slices.Reverse(out)
	}
	return out
}
