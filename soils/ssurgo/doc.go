// Package ssurgo reads the tabular and spatial export of the USDA soil survey (SSURGO, and STATSGO2, which is laid out
// alike) into the model of package soils.
//
// An export is a folder or a zip. Each survey area in it is a folder with tabular/ and, mostly, spatial/; an area is
// found by its tabular/mapunit.txt, at any depth, whatever the folders are called. A table is a text file without a
// header: fields parted by |, text in double quotes that may run over lines. Which column stands where is told by
// the export's own mstabcol.txt; a built-in table (SSURGO 2.3.3) stands in for it.
//
//	export, err := ssurgo.Open(ctx, "AR017", os.DirFS("AR017"), &faults)
//	survey, err := export.Survey(ctx)                         // map units, components, horizons
//	err = export.Polygons(ctx, func(p ssurgo.Polygon) error { … }) // the map, one polygon at a time
//
// Bad content is stepped over and told with its file and line: a cell that is no number is missing, a record that does
// not fit its table is left out, a child without a parent is counted. Nothing depends on the order of records, nor on
// component and horizon keys, which change every year.
//
// Sources: the export's readme and metadata tables (mstab, mstabcol, msdomdet), US government text.
package ssurgo
