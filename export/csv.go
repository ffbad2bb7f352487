package export

import (
	"io"

	"rootworthy/suitability"
)

// WriteLimeCSV writes the lime list, a row for each zone.
func WriteLimeCSV(w io.Writer, r *suitability.Result, words Sentences) error {
	entries := limeListEntries()
	t := newListing(w, columns(entries))
	for _, z := range Zones(r) {
		t.row(row(entries, sayable{z, words}))
	}
	return t.Close()
}

// WriteFieldsCSV writes the field list, a row for each field in the order of the result, also for those without an
// answer.
func WriteFieldsCSV(w io.Writer, r *suitability.Result) error {
	entries := fieldEntries()
	t := newListing(w, columns(entries))
	for _, s := range Sums(r) {
		t.row(row(entries, &s))
	}
	return t.Close()
}

// listing is a table whose rows are values.
type listing struct {
	*Table
	cells []string // one for each column
}

// newListing begins a table with the names of the columns.
func newListing(w io.Writer, columns []Column) *listing {
	l := &listing{cells: make([]string, len(columns))}
	// Names are plain words of this program, and need no guard against formulas.
	for i, c := range columns {
		l.cells[i] = c.Name
	}
	l.Table = NewTable(w, l.cells...)
	return l
}

// row writes one row. Its cells are reused from row to row.
func (l *listing) row(values []Value) {
	for i, v := range values {
		l.cells[i] = v.cell()
	}
	l.Row(l.cells...)
}
