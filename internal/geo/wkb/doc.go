// Package wkb reads and writes the polygons of well-known binary, the geometry encoding inside databases and columnar
// files.
//
//	g, err := wkb.Read(blob)
//	if g.Flattened { … }       // heights or measures were left out
//	keep(g.Shape)              // as stored: rings may turn either way
//	blob = wkb.Append(nil, shape) // little-endian MultiPolygon
//
// Both byte orders are read, the codes of ISO (1003 is a polygon with heights) and the flags of the extended form. The
// counts a blob claims are believed only as far as it has bytes for them.
//
// Sources: OGC 06-103r4, Simple feature access part 1, clause 8 (codes and layout); the flags of the extended form,
// 0x80000000 Z, 0x40000000 M and 0x20000000 reference system: from memory, checked against GDAL in tests.
package wkb
