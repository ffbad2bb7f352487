package arrange

import (
	"math"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
)

// scale converts between coordinates and grid units. A step such as 1e-7 is not a float64, but its inverse is a whole
// number: multiplying and dividing by that gives the float64 nearest to the decimal, which prints short.
type scale struct {
	perUnit float64 // grid units per unit
	step    float64 // units per grid unit, used where it is whole
}

// newScale returns the scale of a grid step.
func newScale(step float64) scale {
	per := 1 / step
	if r := math.Round(per); r >= 1 && math.Abs(per-r) < 1e-9*r {
		per = r
	}
	return scale{perUnit: per, step: step}
}

// snap rounds a point to the grid. ok is false if it is not finite or too far out.
func (s scale) snap(p orb.Point) (pt geo.Pt, ok bool) {
	x, okX := geo.Snap(p[0], s.perUnit)
	y, okY := geo.Snap(p[1], s.perUnit)
	return geo.Pt{X: x, Y: y}, okX && okY
}

// is says whether a point snaps to pt.
func (s scale) is(p orb.Point, pt geo.Pt) bool {
	q, ok := s.snap(p)
	return ok && q == pt
}

// point gives a grid point back.
func (s scale) point(p geo.Pt) orb.Point {
	if s.perUnit >= 1 {
		return orb.Point{float64(p.X) / s.perUnit, float64(p.Y) / s.perUnit}
	}
	return orb.Point{float64(p.X) * s.step, float64(p.Y) * s.step}
}

// FromOrb rounds closed rings to the grid of the given step. ok is false if a coordinate is not finite or too far out.
// Repeated points and the closing point are left out and each ring begins with its least point; nothing is repaired,
// not even directions, so [CheckAll] may find anything.
func FromOrb(mp orb.MultiPolygon, step float64) (parts []Polygon, ok bool) {
	s := newScale(step)
	for _, p := range mp {
		part := make(Polygon, 0, len(p))
		for _, r := range p {
			ring, lost := s.ring(r)
			if lost > 0 {
				return nil, false
			}
			ring, _ = dropRepeated(ring)
			part = append(part, fromLeast(ring))
		}
		parts = append(parts, part)
	}
	return parts, true
}

// ring snaps the points of a ring and returns how many could not be.
func (s scale) ring(r orb.Ring) (ring []geo.Pt, lost int) {
	ring = make([]geo.Pt, 0, len(r))
	for _, p := range r {
		if pt, ok := s.snap(p); ok {
			ring = append(ring, pt)
		} else {
			lost++
		}
	}
	return ring, lost
}

// dropRepeated takes out, in place, points equal to the one before, and last points equal to the first. It returns how
// many went.
func dropRepeated(ring []geo.Pt) ([]geo.Pt, int) {
	kept := ring[:0]
	for _, p := range ring {
		if len(kept) == 0 || kept[len(kept)-1] != p {
			kept = append(kept, p)
		}
	}
	for len(kept) > 1 && kept[len(kept)-1] == kept[0] {
		kept = kept[:len(kept)-1]
	}
	return kept, len(ring) - len(kept)
}

// ToOrb gives polygons on the grid of the given step back as closed rings: outer rings counter-clockwise, holes
// clockwise, as in RFC 7946.
func ToOrb(parts []Polygon, step float64) orb.MultiPolygon {
	s := newScale(step)
	out := make(orb.MultiPolygon, 0, len(parts))
	for _, p := range parts {
		poly := make(orb.Polygon, 0, len(p))
		for _, r := range p {
			ring := make(orb.Ring, 0, len(r)+1)
			for _, pt := range r {
				ring = append(ring, s.point(pt))
			}
			poly = append(poly, append(ring, ring[0]))
		}
		out = append(out, poly)
	}
	return out
}
