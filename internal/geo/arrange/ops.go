package arrange

import (
	"slices"

	"rootworthy/internal/geo"
)

// unit is the grid the points are on.
var unit = grid{size: 1}

// label merges and sweeps the lines, and nodes them first if they need it. The error is [errTangled].
func (l *lines) label(limit int) (*labelled, error) {
	l.merge()
	if lb, ok := l.sweep(); ok {
		return lb, nil
	}
	noded, err := l.node(unit, limit)
	if err != nil {
		return nil, err
	}
	return noded.noded(), nil
}

// noded sweeps lines that are known not to cross.
func (l *lines) noded() *labelled {
	lb, ok := l.sweep()
	if !ok {
		// node proves that this cannot be. If it is, wrong ground must not go out in silence.
		panic("arrange: noded lines cross")
	}
	return lb
}

// must is for lines of polygons, whose crossings are not bounded.
func (l *lines) must() *labelled {
	lb, _ := l.label(0) // the only error is exceeding the limit
	return lb
}

// Assemble makes polygons of rings that have the ground on their left and do not cross each other: rings that touch
// themselves are split, lines walked to and fro vanish, holes go to the part around them. Ground is where the rings
// wind more than zero times. Rings that do cross are noded first, so that any input gives valid polygons.
func Assemble(rings [][]geo.Pt) []Polygon {
	if p, ok := asTheyAre(rings, Valid); ok {
		return p
	}
	l := newLines()
	for _, r := range rings {
		l.addRing(r, 0)
	}
	return l.must().ground(anyAbove)
}

// EvenOdd makes rings valid: everything is noded, and ground is what an odd number of rings surrounds, whatever their
// direction. Lines that bound nothing vanish.
//
//   - A bow-tie gives its two lobes; a ring that touches itself in a point is split there.
//   - A hole outside its shell, or the part of it that is outside, becomes ground; an island in a hole is ground.
//   - A hole equal to its shell leaves nothing; two equal holes leave none ([Repair] drops one of them first).
//
// All this is what general geometry libraries make of the same lines. The number of crossings is not bounded here, so
// rings from outside go through [Repair] or [MakeValid].
func EvenOdd(rings [][]geo.Pt) []Polygon {
	if p, ok := asTheyAre(rings, Direction); ok {
		return p
	}
	l := newLines()
	for _, r := range rings {
		l.addRing(r, 0)
	}
	return l.must().ground(anyOdd)
}

// asTheyAre returns rings as a polygon, a copy, if they are one but for the finding given. Rings that touch within an
// edge are left to the noding, which puts a corner there, so that the result does not depend on this shortcut.
func asTheyAre(rings [][]geo.Pt, but Kind) ([]Polygon, bool) {
	var c Checker
	if f := c.Check(rings); f.Kind != Valid && f.Kind != but || len(c.cuts) > 0 {
		return nil, false
	}
	p := make(Polygon, 0, len(rings))
	for i, r := range rings {
		r = slices.Clone(fromLeast(r))
		if counterClockwise(r) != (i == 0) {
			slices.Reverse(r[1:])
		}
		p = append(p, r)
	}
	out := []Polygon{p}
	canonical(out)
	return out, true
}

// MakeValid makes each part valid by the even-odd rule and returns the union of the parts: parts that overlap are
// joined, they do not cancel. ok is false, and nothing is returned, if the rings cross more than a million times.
func MakeValid(parts []Polygon) (valid []Polygon, ok bool) {
	l := newLines()
	for i := range parts {
		l.addPolygons(parts[i:i+1], i)
	}
	lb, err := l.label(maxCrossings)
	if err != nil {
		return nil, false
	}
	return lb.ground(anyOdd), true
}

// Union returns the ground that any polygon of any set covers (winding number above zero).
func Union(sets ...[]Polygon) []Polygon {
	l := newLines()
	for _, s := range sets {
		l.addPolygons(s, 0)
	}
	return l.must().ground(anyAbove)
}

// Difference returns the ground of a that b does not cover.
func Difference(a, b []Polygon) []Polygon {
	return two(a, b).ground(func(v []wind) bool { return above(v, 0) && !above(v, 1) })
}

// Intersection returns the ground that a and b both cover, without shared lines and points.
func Intersection(a, b []Polygon) []Polygon {
	return two(a, b).ground(func(v []wind) bool { return above(v, 0) && above(v, 1) })
}

// two labels two sets as layers 0 and 1.
func two(a, b []Polygon) *labelled {
	l := newLines()
	l.addPolygons(a, 0)
	l.addPolygons(b, 1)
	return l.must()
}

// above says whether a layer winds more than zero times.
func above(v []wind, layer int32) bool {
	for _, w := range v {
		if w.layer == layer {
			return w.count > 0
		}
	}
	return false
}

// anyAbove says whether any layer winds more than zero times.
func anyAbove(v []wind) bool {
	for _, w := range v {
		if w.count > 0 {
			return true
		}
	}
	return false
}

// anyOdd says whether any layer winds an odd number of times.
func anyOdd(v []wind) bool {
	for _, w := range v {
		if w.count%2 != 0 {
			return true
		}
	}
	return false
}
