package geopackage

import (
	"context"
	"fmt"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

// Features calls f for every row of the layer and stops at its first error, which it returns as it is. A feature whose
// shape cannot be used has the reason, which was told; its attributes are there. Its ID is the number of its row.
func (l *Layer) Features(ctx context.Context, f func(feature.Feature) error) error {
	// The shape and the key come first, so that attributes begin at 2. A table without a key has "" here, which no column is
	// called, and so no id.
	names := []string{l.Geometry, l.table.key}
	for _, c := range l.Columns {
		names = append(names, c.Name)
	}
	return l.table.Rows(ctx, names, func(r *Row) error {
		out := feature.Feature{Index: r.Index, ID: r.Text(1), Properties: make([]feature.Property, len(l.Columns))}
		for i, c := range l.Columns {
			out.Properties[i] = feature.Property{Name: c.Name, Value: c.json(r.values[i+2])}
			// Its value in JSON is null.
			if r.Bytes(i+2) != nil {
				l.notice(&out, c.Name, "binary value", "its value is binary and is left out")
			}
		}
		l.shape(r, &out)
		return f(out)
	})
}

// shape reads the geometry, and tells what there is to tell about it.
func (l *Layer) shape(r *Row, out *feature.Feature) {
	// The library hands out a value of any type in any column: a declared type binds nobody.
	b, binary := r.values[0].([]byte)
	switch {
	case r.values[0] == nil:
		out.Reason = "it has no geometry"
	case !binary:
		out.Reason = "its geometry is no binary value"
	case len(b) == 0:
		out.Reason = "its geometry is empty"
	}
	if out.Reason != "" {
		l.noPolygon(out)
		return
	}
	g, err := readBlob(b)
	out.Geometry = g.Shape
	switch {
	case err != nil:
		out.Reason = err.Error()
	case len(g.Shape) == 0 && len(g.Others) > 0:
		out.Reason = fmt.Sprintf("it is a %s, not a polygon", g.Others[0])
	case len(g.Shape) == 0:
		out.Reason = "its geometry is empty"
	case len(g.Others) > 0:
		l.notice(out, "", "other geometry", fmt.Sprintf("beside polygons it holds a %s, which is left out", g.Others[0]))
	}
	if out.Reason != "" {
		l.noPolygon(out)
	}
	if g.Flattened {
		l.notice(out, "", "heights", "it has heights or measures, which are left out")
	}
}

func (l *Layer) noPolygon(f *feature.Feature) {
	l.db.faults.Add(diag.Fault{File: l.db.name, Feature: f.Label(), Kind: "no polygon", What: f.Reason, Fix: "draw it as a polygon, or take its row out"})
}

func (l *Layer) notice(f *feature.Feature, field, kind, what string) {
	l.db.faults.Notice(diag.Fault{File: l.db.name, Feature: f.Label(), Field: field, Kind: kind, What: what})
}

// json returns a value as the type of its column means it: BOOLEAN is stored as 0 and 1.
func (c Column) json(v any) []byte {
	if n, ok := v.(int64); ok && (n == 0 || n == 1) && strings.EqualFold(c.Type, "BOOLEAN") {
		return feature.JSON(n == 1)
	}
	if s, ok := v.(string); ok {
		return feature.JSON(clean(s))
	}
	return feature.JSON(v)
}
