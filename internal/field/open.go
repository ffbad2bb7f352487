package field

import (
	"bytes"
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
	format   string // for messages
	troubled int    // drawings without a polygon
	values   int    // attributes of all drawings
}

// Bounds on one file, so that a few bytes (a list of nothings, a table of blanks) cannot fill the memory. The largest
// set of boundaries of a state has some hundred thousand.
const (
	maxDrawings = 1_000_000
	maxTroubled = 100_000    // features without a polygon, which cost their file next to nothing
	maxValues   = 20_000_000 // attributes of all features together
)

// add takes a drawing, within the bounds.
func (l *layer) add(d drawing) error {
	if d.Trouble != "" {
		l.troubled++
	}
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
func readAll(sources []Source, opt Options, faults *diag.List) ([]drawing, error) {
	var out []drawing
	var errs []error
	for _, s := range sources {
		l, err := s.read(faults)
		if err == nil && len(l.drawings) == 0 {
			err = fmt.Errorf("%s: holds no polygons", s.Name)
		}
		if err == nil {
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

// read finds out what kind of file the source is, by its first bytes, and reads it.
func (s Source) read(faults *diag.List) (layer, error) {
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
		return layer{}, fmt.Errorf("%s: is a folder; name the file of boundaries in it", s.Name)
	}
	head := make([]byte, 16)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return layer{}, fmt.Errorf("%s: %w", s.Name, cause(err))
	}
	switch head = head[:n]; {
	case bytes.HasPrefix(head, []byte("PK\x03\x04")) || bytes.HasPrefix(head, []byte("PK\x05\x06")):
		return s.readZip(f, info.Size(), faults)
	case bytes.HasPrefix(head, []byte{0, 0, 0x27, 0x0A}):
		return s.readShapes(s.Files, s.Path, s.Name, faults)
	case bytes.HasPrefix(head, []byte("SQLite format 3")):
		return layer{}, fmt.Errorf("%s: is a database; export its boundaries as GeoJSON or a shapefile", s.Name)
	}
	switch ext := strings.ToLower(path.Ext(s.Path)); ext {
	case ".shp":
		return s.readShapes(s.Files, s.Path, s.Name, faults) // which says what is wrong with it
	case ".dbf", ".shx", ".prj", ".cpg":
		return layer{}, fmt.Errorf("%s: is only a part of a shapefile; name its .shp", s.Name)
	}
	return readFeatures(s.Name, io.MultiReader(bytes.NewReader(head), f), faults)
}

// readZip reads the one layer of a zip: a shapefile, else GeoJSON.
func (s Source) readZip(f fs.File, size int64, faults *diag.List) (layer, error) {
	at, ok := f.(io.ReaderAt)
	if !ok {
		return layer{}, fmt.Errorf("%s: is a zip, which cannot be read from here; unpack it", s.Name)
	}
	files, err := shapefile.OpenZip(s.Name, at, size)
	if err != nil {
		return layer{}, err
	}
	if shps, err := shapefile.Find(files); err == nil && len(shps) == 0 {
		if name, ok := s.onlyGeoJSON(files); ok {
			g, err := files.Open(name)
			if err != nil {
				return layer{}, fmt.Errorf("%s: %w", s.Name+"/"+name, cause(err))
			}
			defer g.Close()
			return readFeatures(s.Name+"/"+name, g, faults)
		}
	}
	l, err := shapefile.OpenOnly(s.Name, files, s.Layer, faults)
	if err != nil {
		return layer{}, err
	}
	return readLayer(l, faults)
}

// onlyGeoJSON returns the one GeoJSON file of a zip, or the one that is meant.
func (s Source) onlyGeoJSON(files fs.FS) (string, bool) {
	all, err := shapefile.FindExt(files, ".geojson", ".json")
	if err != nil {
		return "", false
	}
	for _, name := range all {
		if s.Layer != "" && (strings.EqualFold(name, s.Layer) || strings.EqualFold(path.Base(name), s.Layer)) {
			return name, true
		}
	}
	if len(all) == 1 && s.Layer == "" {
		return all[0], true
	}
	return "", false
}

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
		for c, col := range l.Columns {
			d.Attributes = append(d.Attributes, Attribute{col.Name, rec.JSON(c)})
		}
		switch {
		case rec.Damaged != "":
			d.Trouble = "its shape is damaged: " + rec.Damaged // which was told
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
