// Package geojson reads polygons from GeoJSON: a FeatureCollection, a Feature or a bare geometry, or a sequence of the
// latter two, a line each or as RFC 8142 has it, with properties kept in the order and with the digits they have in the file.
//
//	c, err := geojson.Read("fields.geojson", r, faults)
//	for _, f := range c.Features {
//		fmt.Println(f.Label(), f.Line, len(f.Geometry), f.Properties[0].Name)
//	}
//
// [Scan] does the same feature by feature for files larger than memory. Damage is told with its line: a feature that
// cannot be used stays in the list with the reason, a file that breaks off yields what stands before the break.
// Memory is bounded by what was read of one feature, nesting by maxDepth, one text by maxToken.
//
// Files of before 2016 may name a coordinate reference system in a "crs" member; it is read, not applied.
//
// Sources: RFC 7946 (GeoJSON), RFC 8142 (GeoJSON text sequences), RFC 8259 (JSON); the "crs" member: The GeoJSON Format Specification 1.0, 2008,
// section 3.
package geojson
