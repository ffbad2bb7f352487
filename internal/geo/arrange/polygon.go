package arrange

import "rootworthy/internal/geo"

// Polygon is one part on the grid. The first ring is the outer one, counter-clockwise; the rest are holes, clockwise
// (ground on the left of every edge). A ring does not repeat its first point at the end, has at least three points,
// no two alike, and begins at its least point (by X, then Y); holes are in order of their first points. Every function of this package that
// returns polygons returns them so, valid in the sense of OGC Simple Features, in order of their first points.
type Polygon [][]geo.Pt
