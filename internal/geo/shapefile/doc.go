// Package shapefile reads and writes polygon shapefiles: the .shp with the rings, the .dbf with a row of attributes
// for each, the .prj with the projection and the .cpg with the text encoding. The .shx index is optional in reading.
//
// A survey of gigabytes is read record by record; nothing but the record at hand is held:
//
//	layer, err := shapefile.Open("soil.shp", os.DirFS("export/spatial"), "soil.shp", faults)
//	mukey := layer.Column("MUKEY")
//	err = layer.Records(func(rec *shapefile.Record) error {
//		add(rec.Rings, rec.Text(mukey)) // rings as stored; copy what is kept
//		return nil
//	})
//
// [Layer.Polygons] does the same with the rings sorted into parts and holes.
//
// Nothing a header claims is allocated before it was read. Damage is a fault with its byte offset; what stands
// before it (and behind it, when the index shows the way) is kept.
//
// Sources: Esri Shapefile Technical Description, July 1998 (layout of .shp and .shx); dBASE III and IV file layout
// as commonly published (layout of .dbf; language bytes from memory, not checked, where charset.go says so).
package shapefile
