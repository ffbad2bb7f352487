// Package overlay cuts fields with a coverage of survey polygons: which ground of which map unit lies in which field,
// with its exact area and a boundary that is fit to be written.
//
//	survey := overlay.New()
//	for … {
//		err := survey.Take(mapUnit, shape) // metres of an equal-area plane; Add copies the shape
//	}
//	err := survey.Run(ctx, fields, overlay.Options{}, func(c overlay.Cut) error { … })
//
// All coordinates are rounded once to whole tenths of a millimetre ([geo.PlaneStep]); from then on every decision is
// exact. The life of one field:
//
//	field ─ snapped, checked ─┬─ index ── polygons whose box it meets
//	                          │             for each of them:
//	                          │   chunks near the field             approach.go, coarse.go
//	                          │   crossings of the two boundaries   cross.go   which side: side.go
//	                          │   in exact order along both         order.go
//	                          │   rings traced along both in turn   trace.go   rings not crossed: inside.go
//	                          │   pieces tested for validity        check.go
//	                          └─ areas, gaps, boundary   edge.go, residue.go, finish.go   mended if need be: mend.go
//
// Rings that are not valid, in the survey or in a field, are made valid when they are met (mended.go); what was done is
// told. A survey larger than memory is written to a file once (NewWriter) and read from it piece by piece (Open).
//
// There is no arrangement of all lines at once. Every decision depends only on the two edges, or the edge and the
// point, that it is about; so two neighbours decide alike about the edge they share, and their pieces fit together.
package overlay
