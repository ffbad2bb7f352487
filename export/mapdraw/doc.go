// Package mapdraw draws the zones of a field, or the fields of a run, as maps: in SVG for a page, as PNG, and on a
// [Canvas] for paper.
//
// All three are made from one [Drawing], a list of areas with patterns, lines, dots and text, so that they cannot
// differ in what they show:
//
//	d := mapdraw.Field(result, &sums[0], mapdraw.Options{Kind: mapdraw.Class, Style: mapdraw.Screen(), Width: 700, Parts: mapdraw.Whole})
//	err := d.SVG(w, "f1")      // patterns by <pattern>, ids that begin with f1
//	err = d.PNG(w, 2)          // patterns cut by geometry, two pixels a unit
//	d.Play(canvas)             // the same for paper
//
// [Overview] draws all fields of a run, thousands of them if need be, and [Bars] shares as bars in the same looks.
//
// No colour stands alone: a class is told by fill, pattern and letter, and zones are parted by a double line, dark on
// white, one of which is seen on any fill. Patterns are measured on paper or screen, not on the ground. Zones too small
// for a label are called out beside the map, and none is forgotten: what finds no room is counted under it.
//
// The map is in metres of latitude and of longitude at the middle of the field; lines are thinned for drawing by
// shared arcs, so that neighbours stay neighbours. Files of data are never made from a drawing.
package mapdraw
