// Package export writes a result: zones and fields as GeoJSON, the lime list and the field list as CSV, and the
// reasons of every zone as lines of JSON.
//
// Every format is written from one table: a [Column] says what a property is called, its unit and its meaning, and
// the row of a zone or field holds its values in that order. So a number has the same name and the same digits in
// every file. Quantities are SI until here; customary units and their metric twins are made in the row, once.
//
//	err := export.WriteZones(w, result, words.Sentences(result.Profile)) // zones.geojson
//
// Missing is null in JSON and an empty cell in CSV, never zero. Equal results give equal bytes: zones go out by field
// in the order of the result, then by number, whatever their order in memory. Sentences come from package words.
package export
