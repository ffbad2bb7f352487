package overlay

import "rootworthy/internal/geo"

// Every field is thought of as moved by (ε, ε²), with ε > 0 smaller than any fraction of grid units that can occur.
// Survey polygons stay. Then no field vertex lies on a survey line, no survey vertex on a field line, and no two edges
// run along each other: all crossings are proper, and there are no cases to tell apart. One shift for all fields and
// none for the survey means that a line between two survey polygons is decided alike for both.
//
// With d = b-a, moving p by (ε, ε²) changes cross(a, b, p) = d × (p-a) by
//
//	d × (ε, ε²) = d.X·ε² - d.Y·ε
//
// which decides where the cross product itself is zero: its sign is that of -d.Y, or if d.Y is zero that of d.X.
// The price is paid later: where boundaries coincide pieces of no width appear, and are dropped.

// tie says whether a field point on the survey line a→b counts as left of it.
func tie(a, b geo.Pt) bool { return b.Y < a.Y || b.Y == a.Y && b.X > a.X }

// cross64 is geo.Cross where it fits: for points of two boxes that meet, neither wider than wideSpan.
func cross64(a, b, p geo.Pt) int64 {
	return (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X)
}

// fieldLeft says whether field point p lies left of the survey line a→b.
func fieldLeft(a, b, p geo.Pt, wide bool) bool {
	o := orient(a, b, p, wide)
	return o > 0 || o == 0 && tie(a, b)
}

// soilLeft says whether survey point a lies left of the field line p→q: the field moved away, so a tie goes the
// other way.
func soilLeft(p, q, a geo.Pt, wide bool) bool {
	o := orient(p, q, a, wide)
	return o > 0 || o == 0 && !tie(p, q)
}

// orient has the sign of geo.Cross. In the narrow case it is the cross product itself.
func orient(a, b, p geo.Pt, wide bool) int64 {
	if wide {
		return int64(geo.Orient(a, b, p))
	}
	return cross64(a, b, p)
}
