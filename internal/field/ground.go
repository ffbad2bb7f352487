package field

import (
	"math"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils/unit"
)

// onGrid returns a valid shape on the grid of step. Shapes that went through [mend] are always on it.
func onGrid(shape orb.MultiPolygon) []arrange.Polygon {
	parts, ok := arrange.FromOrb(shape, step)
	if !ok {
		return nil
	}
	return parts
}

// boxOf returns the box of a shape in grid units, a unit wider all round so that rounding hides nothing; one that
// holds nothing when the shape is empty.
func boxOf(shape orb.MultiPolygon) geo.Box {
	b, ok := boundOf(shape)
	if !ok {
		return geo.NoBox()
	}
	// A unit more on each side than rounding needs.
	return geo.Box{X0: int64(math.Floor(b.Min[0]/step)) - 1, Y0: int64(math.Floor(b.Min[1]/step)) - 1,
		X1: int64(math.Ceil(b.Max[0]/step)) + 1, Y1: int64(math.Ceil(b.Max[1]/step)) + 1}
}

// boxOfRing returns the box of a ring on the grid.
func boxOfRing(ring []geo.Pt) geo.Box {
	b := geo.NoBox()
	for _, p := range ring {
		b.X0, b.Y0, b.X1, b.Y1 = min(b.X0, p.X), min(b.Y0, p.Y), max(b.X1, p.X), max(b.Y1, p.Y)
	}
	return b
}

// areaOf returns the area on the ellipsoid.
func areaOf(shape orb.MultiPolygon) unit.Area {
	m2, _ := proj.GeodesicArea(shape, proj.GeodesicOptions{}) // shapes that were placed lie on Earth
	return unit.Area(m2)
}

// clip cuts the rings of a part to a box: inside it the ground is the same to half a grid unit, outside there is
// nothing, and along its edge rings may run to and fro. So one great lake costs each field only what is near.
func clip(part arrange.Polygon, b geo.Box) arrange.Polygon {
	var out arrange.Polygon
	for _, ring := range part {
		around := boxOfRing(ring)
		if !around.Meets(&b) {
			continue
		}
		// Only across sides that the ring reaches beyond; most rings lie inside.
		for side, beyond := range [4]bool{around.X0 < b.X0, around.X1 > b.X1, around.Y0 < b.Y0, around.Y1 > b.Y1} {
			if beyond {
				ring = clipSide(ring, b, side)
			}
		}
		// Less is a line along the edge of the box, with no ground in it.
		if len(ring) > 2 {
			out = append(out, ring)
		}
	}
	return out
}

// clipSide keeps what lies within one side of the box: 0 left, 1 right, 2 bottom, 3 top (Sutherland and Hodgman).
func clipSide(ring []geo.Pt, b geo.Box, side int) []geo.Pt {
	// Rings may be concave: then Sutherland and Hodgman leave parts joined by lines along the side, to and fro. They hold no
	// ground, and the set operations cope with them.
	limit := [4]int64{b.X0, b.X1, b.Y0, b.Y1}[side]
	within := func(p geo.Pt) bool {
		switch side {
		case 0:
			return p.X >= limit
		case 1:
			return p.X <= limit
		case 2:
			return p.Y >= limit
		}
		return p.Y <= limit
	}
	var out []geo.Pt
	for i, p := range ring {
		// Rings on the grid do not repeat their first corner, so the last one comes before it.
		before := ring[(i+len(ring)-1)%len(ring)]
		// The edge crosses the side, inward or outward: where it does so is a corner of what is kept.
		if within(p) != within(before) {
			out = append(out, meet(before, p, limit, side < 2))
		}
		if within(p) {
			out = append(out, p)
		}
	}
	return out
}

// meet returns the point of the edge on the line x = limit, or y = limit. It is reckoned from the lesser end, so that
// neighbours with a common edge get the same point.
func meet(a, b geo.Pt, limit int64, upright bool) geo.Pt {
	if b.Less(a) {
		a, b = b, a
	}
	if upright {
		// The ends lie on two sides of the limit, so the divisor is not 0.
		t := float64(limit-a.X) / float64(b.X-a.X)
		return geo.Pt{X: limit, Y: a.Y + int64(math.Round(t*float64(b.Y-a.Y)))}
	}
	t := float64(limit-a.Y) / float64(b.Y-a.Y)
	return geo.Pt{X: a.X + int64(math.Round(t*float64(b.X-a.X))), Y: limit}
}
