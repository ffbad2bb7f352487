package exchange

import (
	"context"
	"encoding/json"
	"io"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/flatgeobuf"
	"rootworthy/internal/geo/geopackage"
	"rootworthy/suitability"
)

// writeGeoPackage writes zones, fields and, when there are tests, samples as layers.
func (s *Set) writeGeoPackage(ctx context.Context, w io.Writer) error {
	about := s.aboutText()
	layers := []geopackage.Content{
		{Name: s.zones.Name, Title: s.zones.Title, About: about, Columns: columnsOf(s.zones.Columns), Rows: rowsOf(s.zones.Columns, s.zones.Rows)},
		{Name: s.fields.Name, Title: s.fields.Title, About: about, Columns: append(columnsOf(s.fields.Columns), attributesColumn()), Rows: s.fieldRows()},
	}
	if len(s.samples.rows) > 0 {
		layers = append(layers, s.samples.content(about))
	}
	return geopackage.Write(ctx, w, layers, s.when)
}

// attributesColumn holds what the user's file said of a boundary: fields of several files have different attributes, so
// they do not make columns.
func attributesColumn() feature.Column {
	return feature.Column{Name: "attributes", Title: "the attributes of the boundary as given, as JSON"}
}

// fieldRows yields the fields, the user's attributes last.
func (s *Set) fieldRows() feature.Rows {
	return func(yield func(orb.MultiPolygon, []any) bool) {
		i := 0
		for shape, values := range rowsOf(s.fields.Columns, s.fields.Rows) {
			if !yield(shape, append(values, attributesText(s.result.Fields[i].Attributes))) {
				return
			}
			i++
		}
	}
}

// attributesText returns attributes in their order as one JSON object, nil for none. What is no JSON is left null.
func attributesText(list []suitability.Attribute) any {
	if len(list) == 0 {
		return nil
	}
	b := []byte{'{'}
	for i, a := range list {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(append(b, feature.JSON(a.Name)...), ':')
		if !json.Valid(a.Value) {
			b = append(b, "null"...)
			continue
		}
		b = append(b, a.Value...)
	}
	return string(append(b, '}'))
}

// writeFlatGeobuf leaves out zones of which no shape is left: a reader in wide use breaks off at a feature without one.
func (s *Set) writeFlatGeobuf(_ context.Context, w io.Writer) error {
	rows := s.shaped()
	return flatgeobuf.Write(w, flatgeobuf.Content{Name: s.zones.Name, Title: s.zones.Title, About: s.aboutText(),
		Columns: columnsOf(s.zones.Columns), Rows: rowsOf(s.zones.Columns, rows), At: rowAt(s.zones.Columns, rows)})
}

// shaped returns the zones that have a shape.
func (s *Set) shaped() []export.LayerRow {
	has := func(r export.LayerRow) bool { return len(r.Shape) > 0 }
	// Most runs have no zone without a shape, and then nothing is copied.
	if !slices.ContainsFunc(s.zones.Rows, func(r export.LayerRow) bool { return !has(r) }) {
		return s.zones.Rows
	}
	var out []export.LayerRow
	for _, r := range s.zones.Rows {
		if has(r) {
			out = append(out, r)
		}
	}
	return out
}

// writeGeoJSON writes zones with the cautions as foreign members, that of budgets first.
func (s *Set) writeGeoJSON(_ context.Context, w io.Writer) error {
	words := s.words
	if text := s.budget(); text != "" {
		words.Cautions = append([]string{text}, s.cautions()...)
	}
	return s.zones.WriteGeoJSON(w, s.result, words)
}

// writeCSV writes the table. CSV has no place for remarks: the column lime_basis says what a figure rests on.
func (s *Set) writeCSV(_ context.Context, w io.Writer) error {
	if s.options.ByteMark {
		if _, err := io.WriteString(w, "\ufeff"); err != nil {
			return err
		}
	}
	return s.zones.WriteCSV(w)
}
