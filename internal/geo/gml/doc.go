// Package gml reads polygons from GML, as map services answer: a feature collection of GML 2 or 3.
//
//	crs, err := gml.Scan("mapunits.gml", r, faults, func(f feature.Feature) error {
//		add(f.Text("mukey"), f.Geometry)
//		return nil
//	})
//
// Each feature has its plain elements as properties, under their names without prefix; values are texts, and an empty
// one is null. Shapes are made of straight edges; a boundary with arcs is refused with its reason. Heights are left out.
//
// The order of coordinates: x, y in GML 2 and in systems of easting and northing; latitude, longitude in GML 3 with a
// geographic system named by EPSG, unless that cannot be, since the first number is no latitude: some services write
// longitude first all the same. CRS84 is longitude, latitude.
//
// Sources: OGC 02-069 (GML 2.1.2), OGC 03-105r1 (GML 3.1.1), OGC 04-094 (WFS 1.1, clause 9.2: order of axes), tested
// against answers of a public soil map service.
package gml
