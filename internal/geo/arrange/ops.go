package arrange

import "rootworthy/internal/geo"

// Assemble makes polygons of rings that have the ground on their left and do not cross each other: rings that touch
// themselves are split, lines walked to and fro vanish, holes go to the part around them. Ground is where the rings
// wind more than zero times. Rings that do cross are noded first, so that any input gives valid polygons.
func Assemble(rings [][]geo.Pt) []Polygon { return nil }

// EvenOdd makes rings valid: everything is noded, and ground is what an odd number of rings surrounds, whatever their
// direction. Lines that bound nothing vanish.
func EvenOdd(rings [][]geo.Pt) []Polygon { return nil }

// Union returns the ground that any polygon of any set covers (winding number above zero).
func Union(sets ...[]Polygon) []Polygon { return nil }

// Dissolve returns the union of parts that mostly lie side by side, as the pieces of one map unit do. Edges that two
// parts share bit for bit cancel; noding is done only if something still crosses then.
func Dissolve(parts []Polygon) []Polygon { return nil }

// Difference returns the ground of a that b does not cover.
func Difference(a, b []Polygon) []Polygon { return nil }

// Intersection returns the ground that a and b both cover, without shared lines and points.
func Intersection(a, b []Polygon) []Polygon { return nil }
