// Package arrange rebuilds polygons from their lines: the robust, slower machinery behind the overlay and the
// readers.
//
// A boundary as a user drew it may cross itself, touch itself, run twice along one line, or carry a hole outside its
// shell. A boundary that was sound may cross itself once its corners are rounded to a grid. Both are mended in the
// same way:
//
//	rings → edges with a winding count → noding on the grid → sweep that labels each side → rings → polygons
//
// Step by step:
//
//   - Noding is snap rounding: every end and every crossing makes the grid cell it lies in "hot", and every edge is
//     led through the centres of the hot cells it meets. What comes out has no crossings left (node.go).
//   - The sweep gives each side of each edge its winding number in each layer, and refuses edges that still cross; so
//     edges that need no noding are never noded, and noding is checked by an independent test (sweep.go).
//   - Rings are traced so that each bounds one connected piece of ground, and split where they touch themselves, so
//     that polygons are valid in the sense of OGC Simple Features (trace.go).
//
// All decisions are exact: coordinates are whole numbers, products have 128 bits. The same input gives the same
// output to the last bit, whatever the start, direction or order of its rings.
//
// For example, a bow-tie becomes two triangles that meet in the crossing:
//
//	parts := arrange.EvenOdd([][]geo.Pt{{{0, 0}, {4, 4}, {4, 0}, {0, 4}}})
//	// {(0,0) (2,2) (0,4)} and {(2,2) (4,0) (4,4)}
//
// Names to start from: [Repair] for a polygon in degrees or metres as it was read ([RepairGrid] if it is on the grid),
// [Check] and [CheckAll] for a quick test, [EvenOdd] and [MakeValid] to make rings valid, [Assemble] for rings that run
// round their ground already, [Union], [Dissolve], [Difference] and [Intersection] for sets of polygons, [Cover] and
// [CoverRounded] for neighbours that must keep their shared lines, [Gaps] and [Overlaps] for what a coverage misses or
// has twice, [Simplify] for drawing.
package arrange
