// Package unzip opens zips that people send, whatever program packed them.
//
// A zip made on Windows may part the folders of its names by backslashes, and write letters beyond ASCII in the code page of the machine
// without saying so. The standard library finds such files under the right folder, but then gives their whole name for the last part, or
// refuses to open them:
//
//	Farm\Fields.shp    →  Farm/Fields.shp
//	S\x81d.shp         →  Süd.shp
//
// The names are put right before anything is looked up; the bytes of the files are not touched.
package unzip
