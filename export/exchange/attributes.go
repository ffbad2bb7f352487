package exchange

import (
	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/internal/geo/feature"
)

// columnsOf returns the columns of a layer as codecs take them.
func columnsOf(columns []export.Column) []feature.Column {
	out := make([]feature.Column, len(columns))
	for i, c := range columns {
		// Text where nothing else is said: a number as text can be read, a text as number cannot.
		out[i] = feature.Column{Name: c.Name, Title: meaning(c), Type: feature.Text}
		switch c.Type {
		case export.Number:
			out[i].Type = feature.Real
		case export.Whole:
			out[i].Type = feature.Integer
		}
	}
	return out
}

// plain returns a value as codecs take it: nil, string, float64 or int.
func plain(c export.Column, v export.Value) any {
	// Nil is what every codec writes in its own way of saying "not known".
	if v.IsNull() {
		return nil
	}
	if c.Type == export.Text {
		return v.Text()
	}
	x, ok := v.Float()
	switch {
	case !ok:
		return nil
	case c.Type == export.Whole:
		return int(x)
	}
	return x
}

// rowsOf yields rows as codecs take them. The values are reused from row to row: no codec keeps them.
func rowsOf(columns []export.Column, rows []export.LayerRow) feature.Rows {
	return func(yield func(orb.MultiPolygon, []any) bool) {
		at := rowAt(columns, rows)
		for i := range rows {
			if !yield(at(i)) {
				return
			}
		}
	}
}

// rowAt returns rows by their places; the values are those of the last row asked for.
// FlatGeobuf asks for rows out of their order: it sorts them along a curve for its index.
func rowAt(columns []export.Column, rows []export.LayerRow) func(row int) (orb.MultiPolygon, []any) {
	values := make([]any, len(columns))
	return func(row int) (orb.MultiPolygon, []any) {
		for i, c := range columns {
			values[i] = plain(c, rows[row].Values[i])
		}
		return rows[row].Shape, values
	}
}

// columnIndex finds a column that is known to be there; -1 means a fault of the program, which tests find.
func columnIndex(columns []export.Column, name string) int {
	for i, c := range columns {
		if c.Name == name {
			return i
		}
	}
	return -1
}
