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
		values := make([]any, len(columns))
		for _, r := range rows {
			for i, c := range columns {
				values[i] = plain(c, r.Values[i])
			}
			if !yield(r.Shape, values) {
				return
			}
		}
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
