package arrange

import (
	"slices"

	"rootworthy/internal/geo"
)

// Polygon is one part on the grid. The first ring is the outer one, counter-clockwise; the rest are holes, clockwise
// (ground on the left of every edge). A ring does not repeat its first point at the end, has at least three points,
// no two alike, and begins at its least point (by X, then Y); holes are in order of their points. Every function of
// this package that returns polygons returns them so, valid in the sense of OGC Simple Features, in order of their
// outer rings.
type Polygon [][]geo.Pt

// canonical sorts the holes of each polygon, then the polygons. Rings already begin with their least points.
func canonical(parts []Polygon) {
	for _, p := range parts {
		slices.SortFunc(p[1:], comparePoints)
	}
	slices.SortFunc(parts, func(p, q Polygon) int { return slices.CompareFunc(p, q, comparePoints) })
}

// comparePoints orders rings by their points, one after the other.
func comparePoints(r, s []geo.Pt) int { return slices.CompareFunc(r, s, geo.Pt.Compare) }

// fromLeast returns the ring turned so that it begins with its least point; the ring itself if it does already.
func fromLeast(ring []geo.Pt) []geo.Pt {
	k := 0
	for i, p := range ring {
		if p.Less(ring[k]) {
			k = i
		}
	}
	if k == 0 {
		return ring
	}
	return slices.Concat(ring[k:], ring[:k])
}

// Area returns the area of parts in grid units²: the sum of exact areas of rings, each rounded to float64.
func Area(parts []Polygon) float64 {
	var sum float64
	for _, p := range parts {
		for _, ring := range p {
			sum += ringArea(ring)
		}
	}
	return sum
}

// ringArea returns the area of a ring in grid units², positive if it runs counter-clockwise.
func ringArea(ring []geo.Pt) float64 { return geo.DoubledArea(ring).Float() / 2 }
