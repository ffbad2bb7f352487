// Package kml reads polygons from KML, as globes on a screen save them, and writes polygons and points with styles.
//
//	err := kml.Scan("fields.kml", r, faults, func(f feature.Feature) error { … })
//
// Every Placemark is a feature, in whatever folders it lies; name, description, ExtendedData and the path of its folders
// are its properties. Coordinates are longitude and latitude on WGS 84; heights are left out. Links are never followed.
// A KMZ is a zip with a KML in it: [Main] finds it, [WriteZip] writes one.
//
//	err = kml.Write(w, kml.Document{Name: "Zones", Styles: styles, Layers: layers})
//
// Sources: OGC 07-147r2, OGC KML 2.2.
package kml
