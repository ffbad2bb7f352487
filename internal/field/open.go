package field

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/geojson"
	"rootworthy/internal/geo/shapefile"
)

// drawing is one polygon as a file has it.
type drawing struct {
	Field            // file, place, attributes and trouble so far
	featureID string // the feature's own id, if its format has one
	label     string // names it in messages until it has an id
	shape     orb.MultiPolygon
	excluding bool // ground to exclude, no field
}

// layer is what one file holds.
type layer struct {
	name     string
	drawings []drawing
	stated   string // reference system as the file states it: WKT, or a name; empty when it does not
	isWKT    bool
	own      *ownSystem // of formats that describe it by themselves, instead of stated
	format   string     // for messages
	troubled int        // drawings without a polygon
	values   int        // attributes of all drawings
}

// Bounds on one file, so that a few bytes (a list of nothings, a table of blanks) cannot fill the memory. The largest
// set of boundaries of a state has some hundred thousand.
const (
	maxDrawings = 1_000_000
	maxTroubled = 100_000    // features without a polygon, which cost their file next to nothing
	maxValues   = 20_000_000 // attributes of all features together
)

// add takes a drawing, within the bounds.
// An error ends the reading of the file: a part of it would pass for the whole.
func (l *layer) add(d drawing) error {
	if d.Trouble != "" {
		l.troubled++
	}
	// Counted although nothing limits the attributes of a single feature: a wide table is as large as a long one.
	l.values += len(d.Attributes)
	switch {
	case len(l.drawings) >= maxDrawings:
		return fmt.Errorf("%s: holds more than %d features; split it", l.name, maxDrawings)
	case l.troubled > maxTroubled:
		return fmt.Errorf("%s: more than %d features have no polygon; this is no file of boundaries", l.name, maxTroubled)
	case l.values > maxValues:
		return fmt.Errorf("%s: its features have more than %d values together; leave columns out", l.name, maxValues)
	}
	l.drawings = append(l.drawings, d)
	return nil
}

// readAll reads all sources and brings their shapes to longitude and latitude. All that cannot be read are named.
func readAll(ctx context.Context, sources []Source, opt Options, faults *diag.List) ([]drawing, error) {
	var out []drawing
	var errs []error
	// All files are tried before giving up: who has three wrong files wants to hear of three.
	for _, s := range sources {
		l, err := s.read(ctx, faults)
		// An empty file is a mistake in every case; a run without fields would look like a result.
		if err == nil && len(l.drawings) == 0 {
			err = fmt.Errorf("%s: holds no polygons", s.Name)
		}
		if err == nil {
			// Each file by itself: two files of one farm may come from two programs, in two systems.
			err = l.place(opt.CRS, faults)
		}
		if err != nil {
			errs = append(errs, err)
			continue
		}
		out = append(out, l.drawings...)
	}
	return out, errors.Join(errs...)
}

// within finds the file of a fixed name in a folder or in its folder TASKDATA: task data are a folder on the card, and that is what is named.
// Controllers differ in capitals.
func (s Source) within(name string) (inner Source, ok bool) {
	for _, folder := range []string{"", "TASKDATA"} {
		in := s
		if folder != "" {
			if in, ok = s.entry(folder, true); !ok {
				continue
			}
		}
		if inner, ok = in.entry(name, false); ok {
			return inner, true
		}
	}
	return s, false
}

// entry finds a file or a folder by its name in a folder, whatever its capitals.
func (s Source) entry(name string, folder bool) (Source, bool) {
	entries, err := fs.ReadDir(s.Files, s.Path)
	if err != nil {
		return s, false
	}
	for _, e := range entries {
		if strings.EqualFold(e.Name(), name) && e.IsDir() == folder {
			s.Name, s.Path = strings.TrimRight(s.Name, "/\\")+"/"+e.Name(), path.Join(s.Path, e.Name())
			return s, true
		}
	}
	return s, false
}

// read finds out what kind of file the source is, by its first bytes, and reads it.
func (s Source) read(ctx context.Context, faults *diag.List) (layer, error) {
	f, err := s.Files.Open(s.Path)
	if err != nil {
		return layer{}, fmt.Errorf("%s: %w", s.Name, cause(err))
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return layer{}, fmt.Errorf("%s: %w", s.Name, cause(err))
	}
	if info.IsDir() {
		inner, ok := s.within("TASKDATA.XML")
		if !ok {
			return layer{}, fmt.Errorf("%s: is a folder; name the file of boundaries in it", s.Name)
		}
		return inner.read(ctx, faults)
	}
	// Files on a disk can be read at any place; members of a zip and pipes cannot, and formats that need it say so.
	at, _ := f.(io.ReaderAt)
	return s.readStream(ctx, stream{name: s.Name, path: s.Path, r: bufio.NewReaderSize(f, sniffed), at: at, size: info.Size()}, faults)
}

// stream is a file being read, or a member of a zip.
type stream struct {
	name string // for messages
	path string
	r    *bufio.Reader
	at   io.ReaderAt // the same bytes; nil in a zip
	size int64
}

// readStream tells by the first bytes what it is.
func (s Source) readStream(ctx context.Context, in stream, faults *diag.List) (layer, error) {
	head, err := in.r.Peek(sniffed)
	if err != nil && !errors.Is(err, io.EOF) {
		return layer{}, fmt.Errorf("%s: %w", in.name, cause(err))
	}
	// The name counts only where the bytes say nothing, or where the bytes are wrong and the message should be that of
	// the format meant.
	ext := strings.ToLower(path.Ext(in.path))
	switch {
	// PK\5\6 is the end record, with which an empty zip begins.
	case bytes.HasPrefix(head, []byte("PK\x03\x04")) || bytes.HasPrefix(head, []byte("PK\x05\x06")):
		return s.readZip(ctx, in, faults)
	// 9994, the file code of a shapefile. Source: ESRI Shapefile Technical Description (1998), main file header.
	case bytes.HasPrefix(head, []byte{0, 0, 0x27, 0x0A}):
		return s.readShapes(s.Files, s.Path, s.Name, faults)
	case bytes.HasPrefix(head, []byte("SQLite format 3")) || ext == ".gpkg":
		return s.readDatabase(ctx, in, faults)
	case bytes.HasPrefix(head, []byte("fgb")) || ext == ".fgb":
		return readFlat(in, faults)
	case isKML(head) || ext == ".kml":
		return s.readKML(in, faults)
	case isTaskData(head):
		return readTaskData(in, faults)
	case isGML(head) || ext == ".gml":
		return readGML(in, faults)
	case ext == ".shp":
		return s.readShapes(s.Files, s.Path, s.Name, faults) // which says what is wrong with it
	// People name what they see first in a folder.
	case ext == ".dbf" || ext == ".shx" || ext == ".prj" || ext == ".cpg":
		return layer{}, fmt.Errorf("%s: is only a part of a shapefile; name its .shp", in.name)
	// What is left can only be GeoJSON, whose reader tells line and column of what is wrong; but "not JSON at line 1"
	// helps nobody who gave a picture.
	case ext != ".json" && ext != ".geojson" && foreign(head):
		return layer{}, fmt.Errorf("%s: is no file of boundaries that can be read; give GeoJSON, a shapefile, GeoPackage, FlatGeobuf, KML, GML or ISO 11783-10 task data", in.name)
	}
	return readFeatures(in.name, in.r, faults)
}

// foreign tells that the beginning of a file is not that of GeoJSON, in whatever encoding: those that it cannot be in
// are for its reader to tell. An empty file may be anything.
func foreign(head []byte) bool {
	text := bytes.TrimLeft(head, "\xef\xbb\xbf\xfe\xff\x00\x1e \t\r\n")
	return len(text) > 0 && text[0] != '{' && text[0] != '['
}

// readShapes reads a loose shapefile; its other parts are looked for in files beside shp.
func (s Source) readShapes(files fs.FS, shp, name string, faults *diag.List) (layer, error) {
	l, err := shapefile.Open(name, files, shp, faults)
	if err != nil {
		return layer{}, err
	}
	return readLayer(l, faults)
}

// readLayer takes all records of a shapefile.
func readLayer(l *shapefile.Layer, faults *diag.List) (layer, error) {
	out := layer{name: l.Name, stated: l.Projection, isWKT: true, format: "a shapefile without a .prj"}
	err := l.Polygons(func(i int, shape orb.MultiPolygon, rec *shapefile.Record) error {
		d := drawing{Field: Field{File: l.Name, Index: i}, label: fmt.Sprintf("record %d", i+1), shape: shape}
		// As JSON, whatever the column's type, so that attributes of all formats are alike from here on.
		for c, col := range l.Columns {
			d.Attributes = append(d.Attributes, Attribute{col.Name, rec.JSON(c)})
		}
		switch {
		// Kept in the list with its trouble: a field must not vanish from the result because its record is bad.
		case rec.Damaged != "":
			d.Trouble = "its shape is damaged: " + rec.Damaged // which was told
		// A null shape is allowed by the format and common after a deletion by hand.
		case len(shape) == 0:
			d.Trouble = "it has no shape"
			faults.Add(diag.Fault{File: l.Name, Feature: d.label, Kind: "no polygon", What: d.Trouble, Fix: "draw it, or take its record out"})
		}
		return out.add(d)
	})
	return out, err
}

// readFeatures takes all features of a GeoJSON file.
func readFeatures(name string, r io.Reader, faults *diag.List) (layer, error) {
	out := layer{name: name, format: "GeoJSON"}
	crs, err := geojson.Scan(name, r, faults, func(f geojson.Feature) error {
		d := drawing{Field: Field{File: name, Index: f.Index, Line: f.Line, Trouble: f.Reason}, featureID: f.ID, label: f.Label(), shape: f.Geometry}
		for _, p := range f.Properties {
			d.Attributes = append(d.Attributes, Attribute(p))
		}
		return out.add(d)
	})
	out.stated = crs.Text
	if crs.EPSG > 0 {
		out.stated = fmt.Sprintf("EPSG:%d", crs.EPSG)
	}
	return out, err
}

// cause strips the operation and path from a file error: the caller names the file as the user did.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
