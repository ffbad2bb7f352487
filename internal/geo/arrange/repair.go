package arrange

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
)

// maxCounted bounds the faults counted in one part. More say no more than "many".
const maxCounted = 1000

// Repair brings a multipolygon as it was read onto the grid of the given step (in units of its coordinates: 1e-7 for
// degrees as they are written) and makes it valid: outer rings counter-clockwise, holes clockwise, closed, each
// beginning at its least point, parts in order. The report says what was wrong; if nothing was, only the rounding has
// changed. The result is empty if nothing is left.
//
//   - Points that are not finite are left out and the ring is drawn past them.
//   - Repeated points and spikes go; a ring that surrounds nothing goes.
//   - A part that crosses or touches itself is rebuilt by the even-odd rule, see [EvenOdd]: bow-ties give both lobes, a
//     hole outside its shell is ground, a hole equal to its shell leaves nothing, an island in a hole is ground.
//   - A hole drawn twice counts once; so does a part drawn twice.
//   - Parts that overlap or share a line are joined: two drawings of the same ground are the same ground.
func Repair(mp orb.MultiPolygon, step float64) (orb.MultiPolygon, Report) {
	parts, rep := clean(mp, newScale(step))
	parts = validated(parts, &rep)
	rep.AreaAfter = Area(parts) * step * step
	return ToOrb(parts, step), rep
}

// RepairGrid is [Repair] for rings that are on the grid already. The areas in the report are in grid units².
func RepairGrid(parts []Polygon) ([]Polygon, Report) {
	var rep Report
	var tidy []Polygon
	for _, p := range parts {
		q := make(Polygon, 0, len(p))
		for i, r := range p {
			rep.AreaBefore += asDrawn(ringArea(r), i)
			q = tidyRing(q, slices.Clone(r), i, &rep)
		}
		tidy = appendPart(tidy, q, &rep)
	}
	tidy = validated(tidy, &rep)
	rep.AreaAfter = Area(tidy)
	return tidy, rep
}

// clean snaps and tidies the rings of all parts.
func clean(mp orb.MultiPolygon, s scale) (parts []Polygon, rep Report) {
	for _, p := range mp {
		q := make(Polygon, 0, len(p))
		for i, r := range p {
			ring, lost := s.ring(r)
			rep.NotFinite += lost
			switch last := len(r) - 1; {
			case last < 0:
				continue
			case last == 0 || r[0] != r[last]: // also if one is not a number
				rep.Unclosed++
			case lost == 0 || len(ring) > 0 && s.is(r[last], ring[len(ring)-1]):
				ring = ring[:len(ring)-1] // the closing point is no repeated point
			}
			rep.AreaBefore += asDrawn(drawnArea(r), i)
			q = tidyRing(q, ring, i, &rep)
		}
		parts = appendPart(parts, q, &rep)
	}
	return parts, rep
}

// asDrawn counts the area of ring i of a part: an outer ring adds, a hole takes off, whichever way they run.
func asDrawn(area float64, i int) float64 {
	if i > 0 {
		return -math.Abs(area)
	}
	return math.Abs(area)
}

// drawnArea returns the signed area of a ring over its finite points.
func drawnArea(r orb.Ring) (area float64) {
	var o, a orb.Point
	n := 0
	finite := func(p orb.Point) bool {
		return math.Abs(p[0]) <= math.MaxFloat64 && math.Abs(p[1]) <= math.MaxFloat64
	}
	for _, p := range r {
		if !finite(p) {
			continue
		}
		if n == 0 {
			o = p
		}
		area += (a[0]-o[0])*(p[1]-o[1]) - (p[0]-o[0])*(a[1]-o[1])
		a = p
		if n == 0 {
			area = 0
		}
		n++
	}
	return area / 2
}

// tidyRing adds ring i of a part to q, without repeated points and spikes, if anything is left of it. The ring is
// changed in place. A hole that has lost its outer ring takes the place of that: the hole was outside it.
func tidyRing(q Polygon, ring []geo.Pt, i int, rep *Report) Polygon {
	ring, n := dropRepeated(ring)
	rep.Repeated += n
	ring, n = dropSpikes(ring)
	rep.Spikes += n
	if len(ring) < 3 {
		rep.ZeroArea++
		return q
	}
	ring = fromLeast(ring)
	ccw := counterClockwise(ring)
	if ccw != (i == 0) {
		rep.WrongOrientation++
	}
	if ccw != (len(q) == 0) {
		slices.Reverse(ring[1:])
	}
	if i > 0 && len(q) == 0 {
		rep.HolesOutside++
	}
	return append(q, ring)
}

// appendPart adds a part unless it is empty, its holes in order and each once.
func appendPart(parts []Polygon, q Polygon, rep *Report) []Polygon {
	if len(q) == 0 {
		return parts
	}
	slices.SortFunc(q[1:], comparePoints)
	holes := slices.CompactFunc(q[1:], func(r, s []geo.Pt) bool { return slices.Equal(r, s) })
	rep.DuplicateRings += len(q) - 1 - len(holes)
	return append(parts, q[:1+len(holes)])
}

// dropSpikes takes out, in place, points where the ring turns back along the line it came by, again and again until
// none is left: a-b-c becomes a-c, which runs along the same line. It returns how many went.
func dropSpikes(ring []geo.Pt) ([]geo.Pt, int) {
	n := len(ring)
	kept := ring[:0]
	for _, p := range ring {
		for len(kept) > 1 && spike(kept[len(kept)-2], kept[len(kept)-1], p) {
			kept = kept[:len(kept)-1]
		}
		if len(kept) == 0 || kept[len(kept)-1] != p {
			kept = append(kept, p)
		}
	}
	for changed := true; changed && len(kept) > 2; { // round the corner
		last := len(kept) - 1
		switch {
		case kept[last] == kept[0], spike(kept[last-1], kept[last], kept[0]):
			kept = kept[:last]
		case spike(kept[last], kept[0], kept[1]):
			kept = kept[1:]
		default:
			changed = false
		}
	}
	if len(kept) < 3 {
		return nil, n - len(kept)
	}
	return kept, n - len(kept)
}

// spike says whether a line from a to b turns back on itself towards c: all on one line, a and c on one side of b.
func spike(a, b, c geo.Pt) bool {
	if geo.Orient(a, b, c) != 0 {
		return false
	}
	if a.X != b.X {
		return (a.X > b.X) == (c.X > b.X) && c.X != b.X
	}
	return (a.Y > b.Y) == (c.Y > b.Y) && c.Y != b.Y
}

// validated returns tidied parts valid and in canonical order, and reports what was wrong.
func validated(parts []Polygon, rep *Report) []Polygon {
	if len(parts) == 0 {
		return nil
	}
	canonical(parts)
	n := len(parts)
	parts = slices.CompactFunc(parts, func(p, q Polygon) bool {
		return slices.EqualFunc(p, q, func(r, s []geo.Pt) bool { return slices.Equal(r, s) })
	})
	rep.DuplicateRings += n - len(parts)
	faults := faultsOf(parts)
	rep.count(faults)
	if len(faults) == 0 && len(parts) > 1 {
		rep.Overlapping = !CheckAll(parts).OK()
	}
	if len(faults) == 0 && !rep.Overlapping {
		return parts
	}
	rep.Rebuilt = true
	valid, ok := MakeValid(parts)
	rep.Tangled = !ok
	return valid
}

// faultsOf returns the faults within each part.
func faultsOf(parts []Polygon) (faults []Finding) {
	c := Checker{more: maxCounted}
	for _, p := range parts {
		c.Check(p)
		faults = append(faults, c.bad...)
	}
	return faults
}
