// Package field turns the boundary files of a user into fields: named, in longitude and latitude, valid, with what was
// repaired told.
//
// A grower's boundaries come as they were drawn: in State Plane feet, with a ring left open, a bow-tie where two
// corners were taken in the wrong order, the pond drawn as a part of its own, two fields with one name. Read mends
// what can be mended, says what it changed and by how many acres, and keeps what cannot be mended in the list with
// the reason, so that it does not vanish from the result.
//
//	fields, err := field.Read(ctx, []field.Source{{Name: "home/fields.geojson", Files: os.DirFS("home"), Path: "fields.geojson"}},
//		field.Options{ID: "tract"}, faults)
//
// Files are told apart by what is in them, not by their names: GeoJSON, shapefiles, GeoPackage and other SQLite databases,
// FlatGeobuf, KML, GML, and zips of them, KMZ among these.
// [CheckAgainst] compares the fields with the extent of a survey, to find latitude and longitude exchanged.
package field
