package field

import (
	"bytes"
	"context"
	"fmt"

	"rootworthy/internal/diag"
	geofeature "rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/flatgeobuf"
	"rootworthy/internal/geo/geopackage"
	"rootworthy/internal/geo/gml"
	"rootworthy/internal/geo/partfield"
	"rootworthy/internal/geo/proj"
)

// ownSystem is what a format says of its reference system that describes it in its own way.
type ownSystem struct {
	crs proj.CRS
	ok  bool // it says something
	err error
}

// sniffed is how much of a file is looked at to tell what it is: XML may begin with a page of remarks.
const sniffed = 4096

// isKML tells whether the beginning of a file is that of a KML, in whatever encoding.
func isKML(head []byte) bool {
	return isXML(head, "<kml", ":kml", "opengis.net/kml", "earth.google.com/kml", "<Placemark", "<Folder>")
}

// isGML tells the same of the answers of map services.
func isGML(head []byte) bool {
	return isXML(head, "FeatureCollection", "opengis.net/gml", "ExceptionReport")
}

// isTaskData tells the same of ISO 11783-10 task data.
func isTaskData(head []byte) bool { return isXML(head, "<ISO11783_TaskData") }

// isXML tells whether the beginning of a file is XML that holds one of the marks, letter by letter.
func isXML(head []byte, marks ...string) bool {
	// UTF-16 is looked at without its zero bytes, and marks of byte order and blanks are passed over; what the encoding
	// really is, the scanners find out.
	head = bytes.ReplaceAll(head, []byte{0}, nil) // two bytes a letter
	// Anything that does not begin with "<" is no XML, whatever words it holds.
	head = bytes.TrimLeft(head, "\xef\xbb\xbf\xfe\xff \t\r\n")
	if !bytes.HasPrefix(head, []byte("<")) {
		return false
	}
	for _, m := range marks {
		if bytes.Contains(head, []byte(m)) {
			return true
		}
	}
	return false
}

// take adds a feature. Ids that formats count up by themselves, such as row numbers, are no ids of fields.
func (l *layer) take(f geofeature.Feature) error {
	d := drawing{Field: Field{File: l.name, Index: f.Index, Line: f.Line, Trouble: f.Reason}, label: f.Label(), shape: f.Geometry}
	for _, p := range f.Properties {
		d.Attributes = append(d.Attributes, Attribute(p))
	}
	return l.add(d)
}

// readDatabase reads the layer of a GeoPackage, or another SQLite database, that is meant.
func (s Source) readDatabase(ctx context.Context, in stream, faults *diag.List) (out layer, err error) {
	// The pages of a database lie in any order, so it cannot be read as a stream.
	if in.at == nil {
		return layer{}, fmt.Errorf("%s: is a database, which cannot be read within a zip; unpack it", in.name)
	}
	db, err := geopackage.Open(ctx, in.name, in.at, in.size, faults)
	if err != nil {
		return layer{}, err
	}
	defer func() {
		// A database found damaged only on closing must not look read.
		if e := db.Close(); err == nil {
			err = e
		}
	}()
	l, err := db.Layer(ctx, s.Layer)
	if err != nil {
		return layer{}, err
	}
	out = layer{name: in.name, format: "the database", own: &ownSystem{}}
	out.own.crs, out.own.ok, out.own.err = l.CRS()
	err = l.Features(ctx, out.take)
	return out, err
}

// readFlat reads a FlatGeobuf, which tells its system by a code or by a text; both are for the package that knows the
// format.
func readFlat(in stream, faults *diag.List) (layer, error) {
	l, err := flatgeobuf.Open(in.name, in.r, faults)
	if err != nil {
		return layer{}, err
	}
	out := layer{name: in.name, format: "the file", own: &ownSystem{}}
	out.own.crs, out.own.ok, out.own.err = l.CRS()
	err = l.Features(out.take)
	return out, err
}

// readTaskData reads the partfields of task data, which are in latitude and longitude by the standard.
func readTaskData(in stream, faults *diag.List) (layer, error) {
	out := layer{name: in.name, format: "task data"}
	err := partfield.Scan(in.name, in.r, faults, out.take)
	return out, err
}

// readGML reads what a map service answered. It may name the system by a code or by a text of its own; a code is safer,
// since texts differ by service.
func readGML(in stream, faults *diag.List) (layer, error) {
	out := layer{name: in.name, format: "the file"}
	crs, err := gml.Scan(in.name, in.r, faults, out.take)
	out.stated = crs.Text
	if crs.EPSG > 0 {
		out.stated = fmt.Sprintf("EPSG:%d", crs.EPSG)
	}
	return out, err
}
