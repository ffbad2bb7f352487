// Package exchange writes a result in the formats that other programs read: shapefile, GeoPackage, FlatGeobuf,
// GeoParquet, KML and KMZ, GeoTIFF and its cloud-optimised form, CSV, workbook (XLSX) and GeoJSON.
//
// One zone table feeds them all, so that a figure has the same digits in every file:
//
//	set, err := exchange.New(ctx, result, words.Sentences(result.Profile), exchange.Options{Formats: []string{"geopackage", "csv"}})
//	for _, name := range set.Files() { // zones.gpkg, zones.csv, convert.json
//		err = set.WriteFile(ctx, name, w)
//	}
//
// Lime figures from a soil survey alone are a budget and not a rate to spread. Every file says so in the place its
// format has for it, and in the column lime_basis.
//
// Equal results give equal bytes. Times in files are the date of the run, or 1980-01-01 without one.
package exchange
