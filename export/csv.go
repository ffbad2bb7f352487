package export

import (
	"encoding/csv"
	"io"

	"rootworthy/suitability"
)

// WriteLimeCSV writes the lime list, a row for each zone.
func WriteLimeCSV(w io.Writer, r *suitability.Result, words Sentences) error {
	entries := limeListEntries()
	t := newTable(w, columns(entries))
	for _, z := range Zones(r) {
		t.row(row(entries, sayable{z, words}))
	}
	return t.close()
}

// WriteFieldsCSV writes the field list, a row for each field in the order of the result, also for those without an
// answer.
func WriteFieldsCSV(w io.Writer, r *suitability.Result) error {
	entries := fieldEntries()
	t := newTable(w, columns(entries))
	for _, s := range Sums(r) {
		t.row(row(entries, &s))
	}
	return t.close()
}

// table is a CSV file in the making (RFC 4180): CR LF, a header row, quotes doubled, point as decimal mark. Every text
// cell that could run as a formula gets a leading '. Its first error is kept and returned by close.
type table struct {
	w     *csv.Writer
	cells []string
	err   error
}

// newTable starts a table with its header row.
func newTable(w io.Writer, columns []Column) *table {
	t := &table{w: csv.NewWriter(w)}
	t.w.UseCRLF = true
	for _, c := range columns {
		t.cells = append(t.cells, c.Name)
	}
	t.err = t.w.Write(t.cells)
	return t
}

// row writes one row. The cells are reused from row to row, since csv.Writer keeps none.
func (t *table) row(values []Value) {
	for i, v := range values {
		t.cells[i] = v.cell()
	}
	if t.err == nil {
		t.err = t.w.Write(t.cells)
	}
}

// close flushes the table and returns the first error of all writing.
func (t *table) close() error {
	t.w.Flush()
	if t.err != nil {
		return t.err
	}
	return t.w.Error()
}
