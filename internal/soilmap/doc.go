// Package soilmap opens soil surveys in whatever form they came, several at once, and makes one survey of them.
//
//	s, err := soilmap.Open(ctx, []soilmap.Source{{Name: "AR017", Files: os.DirFS("AR017"), Path: "."}}, soilmap.Options{Around: bounds}, faults)
//	defer s.Close()
//	s.Survey()             // map units with their soils
//	s.Polygons(ctx, …)     // the map
//
// A source is told by what is in it, not by its name:
//
//   - a folder (or opened zip) with a survey export: text tables, polygons beside them (package ssurgo)
//   - a GeoPackage or SQLite database with the survey's tables under their own names, with a layer of polygons or without
//   - polygons with a key of map units: GeoJSON, shapefile, FlatGeobuf, GeoPackage, the GML answer of a map service
//   - a GeoTIFF of map unit keys
//   - GeoTIFFs of modelled soil properties, named by property and depth (SoilGrids): a fallback where nobody mapped
//   - a folder of any of these
//
// Tables and maps join by the key of the map unit, whatever source each is from. Ground whose key is in no table is
// still cut and measured; it just cannot be rated.
//
// Cells of a raster become zones whose shared edges are the same to the last bit; see [Options.Around].
package soilmap
