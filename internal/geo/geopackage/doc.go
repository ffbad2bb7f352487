// Package geopackage reads polygon layers and plain tables from GeoPackage and SQLite databases, and writes
// GeoPackages.
//
// A database is read through the bytes the caller has opened, never written, and none of what it may have in store for
// its reader is run: no triggers, no views, no computed columns, no virtual tables, no extensions.
//
//	db, err := geopackage.Open(ctx, "farm.gpkg", file, size, faults)
//	defer db.Close()
//	layer, err := db.Layer("fields") // or db.Layers()
//	err = layer.Features(ctx, func(f feature.Feature) error { … })
//
// A survey in a database has tables beside its layers; they and their columns are found whatever capitals their names
// are in, and a value is text for whoever asks for text:
//
//	t, ok := db.Table("component")
//	err = t.Rows(ctx, []string{"mukey", "comppct_r"}, func(r *geopackage.Row) error {
//		add(r.Text(0), r.Text(1))
//		return nil
//	})
//
// [Write] makes a GeoPackage 1.3 with a spatial index for each layer; equal rows give equal bytes.
//
// What a damaged or hostile database can cost is bounded: one value by maxValue, one pass over a table by what the size
// of the file can hold, and every wait by the context.
//
// Sources: OGC 12-128r17, GeoPackage Encoding Standard 1.3 (tables, geometry blobs, spatial index, triggers);
// https://www.sqlite.org/fileformat2.html (file header). Layout of the geometry blobs of SpatiaLite and of the table
// geometry_columns: from memory, checked against files written by GDAL in tests.
package geopackage
