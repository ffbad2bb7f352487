package soilmap

import (
	"bufio"
	"context"
	"fmt"
	"io"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/flatgeobuf"
	"rootworthy/internal/geo/geojson"
	"rootworthy/internal/geo/gml"
	"rootworthy/internal/geo/proj"
	"rootworthy/internal/geo/shapefile"
)

// openLayer opens a file of polygons; what says what it is.
func openLayer(s Source, k kind, faults *diag.List) (l layer, what string, err error) {
	switch k {
	case kindShapefile:
		l, err := openShapes(s, faults)
		return l, "shapefile", err
	// Text files are opened anew for every pass, since they cannot be read backwards; a shapefile stays open.
	case kindGeoJSON:
		return &textLayer{s, faults, scanGeoJSON}, "GeoJSON", nil
	case kindGML:
		return &textLayer{s, faults, scanGML}, "GML", nil
	default:
		l, err := openFlat(s, faults)
		return l, "FlatGeobuf", err
	}
}

// shapes is a shapefile.
type shapes struct {
	layer *shapefile.Layer
	sys   system
}

// openShapes opens a shapefile with the system that its .prj names.
func openShapes(s Source, faults *diag.List) (*shapes, error) {
	l, err := shapefile.Open(s.Name, s.Files, s.Path, faults)
	if err != nil {
		return nil, err
	}
	out := &shapes{layer: l}
	// without a .prj it is longitude and latitude, or settle tells that it cannot be
	if l.Projection != "" {
		crs, err := proj.Parse(l.Projection)
		if err == nil {
			out.sys, err = stated(crs)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.Name, err)
		}
	}
	return out, nil
}

func (l *shapes) columns() []string {
	names := []string{}
	for _, c := range l.layer.Columns {
		names = append(names, c.Name)
	}
	return names
}

// scan walks the records; each pass opens the file anew, so the layer holds none open.
func (l *shapes) scan(_ context.Context, columns []string, each func(system, feature.Feature) error) error {
	// -1 for columns that the file does not have
	at := make([]int, len(columns))
	for i, c := range columns {
		at[i] = l.layer.Column(c)
	}
	return l.layer.Polygons(func(i int, shape orb.MultiPolygon, rec *shapefile.Record) error {
		// a damaged record goes on with its reason, and is passed over by whoever takes shapes
		f := feature.Feature{Index: i, Geometry: shape, Reason: rec.Damaged}
		for j, c := range columns {
			if at[j] >= 0 {
				f.Properties = append(f.Properties, feature.Property{Name: c, Value: rec.JSON(at[j])})
			}
		}
		return each(l.sys, f)
	})
}

// textLayer is a file that may tell its coordinate system at its end: its features are gathered first.
type textLayer struct {
	source Source
	faults *diag.List
	read   func(name string, r io.Reader, faults *diag.List, each func(feature.Feature) error) (code int, text string, err error)
}

// columns is nil: features of a text may each have their own.
func (l *textLayer) columns() []string { return nil }

// scan reads the whole text. With columns nil it is only looked at, and features come without their system.
func (l *textLayer) scan(_ context.Context, columns []string, each func(system, feature.Feature) error) error {
	f, err := l.source.Files.Open(l.source.Path)
	if err != nil {
		return fmt.Errorf("%s: %w", l.source.Name, cause(err))
	}
	defer f.Close()
	if columns == nil { // looked at only, faults are told when it is read
		_, _, err := l.read(l.source.Name, f, &diag.List{}, func(f feature.Feature) error { return each(system{}, f) })
		return err
	}
	// These formats may name their system behind the last feature, so all are held until then.
	var all []feature.Feature
	// The one reader here whose memory grows with its file, by shapes and four short columns.
	code, text, err := l.read(l.source.Name, f, l.faults, func(f feature.Feature) error { all = append(all, only(f, columns)); return nil })
	if err != nil {
		return err
	}
	var sys system
	if text != "" {
		// the code is surer than the words around it
		if code > 0 {
			text = fmt.Sprintf("EPSG:%d", code)
		}
		crs, err := proj.FromName(text)
		if err == nil {
			sys, err = stated(crs)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", l.source.Name, err)
		}
	}
	for i := range all {
		if err := each(sys, all[i]); err != nil {
			return err
		}
	}
	return nil
}

// only leaves out the properties that are not wanted.
func only(f feature.Feature, columns []string) feature.Feature {
	// a list of its own: the reader may use the old one again
	kept := f.Properties[:0:0]
	for _, p := range f.Properties {
		if hasColumn(columns, p.Name) {
			kept = append(kept, p)
		}
	}
	f.Properties = kept
	return f
}

// scanGeoJSON and scanGML read features in the one form that textLayer knows, and the system named in the file.
func scanGeoJSON(name string, r io.Reader, faults *diag.List, each func(feature.Feature) error) (int, string, error) {
	crs, err := geojson.Scan(name, r, faults, func(g geojson.Feature) error {
		f := feature.Feature{Index: g.Index, Line: g.Line, ID: g.ID, Geometry: g.Geometry, Reason: g.Reason}
		for _, p := range g.Properties {
			f.Properties = append(f.Properties, feature.Property(p))
		}
		return each(f)
	})
	return crs.EPSG, crs.Text, err
}

func scanGML(name string, r io.Reader, faults *diag.List, each func(feature.Feature) error) (int, string, error) {
	crs, err := gml.Scan(name, r, faults, each)
	return crs.EPSG, crs.Text, err
}

// flat is a FlatGeobuf, opened anew for every pass.
type flat struct {
	source Source
	faults *diag.List
	names  []string
}

// openFlat reads the header, for the names of the columns.
func openFlat(s Source, faults *diag.List) (*flat, error) {
	out := &flat{source: s, faults: faults, names: []string{}}
	return out, out.open(func(l *flatgeobuf.Layer) error {
		for _, c := range l.Columns {
			out.names = append(out.names, c.Name)
		}
		return nil
	})
}

// columns is never nil: the header names them.
func (l *flat) columns() []string { return l.names }

// open opens the file for one pass.
func (l *flat) open(do func(*flatgeobuf.Layer) error) error {
	f, err := l.source.Files.Open(l.source.Path)
	if err != nil {
		return fmt.Errorf("%s: %w", l.source.Name, cause(err))
	}
	defer f.Close()
	in, err := flatgeobuf.Open(l.source.Name, bufio.NewReaderSize(f, 1<<16), l.faults)
	if err != nil {
		return err
	}
	return do(in)
}

// scan walks the features in the order of the file.
func (l *flat) scan(_ context.Context, columns []string, each func(system, feature.Feature) error) error {
	return l.open(func(in *flatgeobuf.Layer) error {
		var sys system
		crs, known, err := in.CRS()
		if known {
			sys, err = stated(crs)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", l.source.Name, err)
		}
		return in.Features(func(f feature.Feature) error { return each(sys, only(f, columns)) })
	})
}
