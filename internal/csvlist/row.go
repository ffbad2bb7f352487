package csvlist

import (
	"encoding/csv"
	"errors"
	"fmt"
	"iter"
	"strings"

	"rootworthy/internal/diag"
)

// Row is a row under the header.
type Row struct {
	Line  int      // where it begins in the file, 1-based; a quoted cell may span several
	Cells []string // as the file has them, fewer or more than the header has; valid until the next row

	list *List
}

// Cell returns the cell of a column without the blanks around it; "" where the list has no such column or the row ends before it.
func (r Row) Cell(column string) string {
	if i, ok := r.list.at[column]; ok && i < len(r.Cells) {
		return strings.TrimSpace(r.Cells[i])
	}
	return ""
}

// Row returns cells that stand in no file yet as a row of the list.
func (l *List) Row(line int, cells []string) Row { return Row{line, cells, l} }

// Rows goes through the rows under the header, blank ones left out. A row whose quotation marks do not fit is left out and told, and so is what
// lies beyond the bound of the form.
func (l *List) Rows(faults *diag.List) iter.Seq[Row] {
	return func(yield func(Row) bool) {
		if l.Header == nil {
			return
		}
		in, n := l.reader(l.Separator), 0
		in.ReuseRecord = true
		for {
			cells, err := in.Read()
			var bad *csv.ParseError
			switch {
			case errors.As(err, &bad):
				faults.Add(l.unquoted(bad))
				continue
			case err != nil: // the end: the text lies in memory, so that reading it does not fail
				return
			}
			line, _ := in.FieldPos(0)
			if line <= l.Line || blank(cells) { // the header, and what stands above it
				continue
			}
			if n++; l.form.MostRows > 0 && n > l.form.MostRows {
				faults.Add(diag.Fault{File: l.Name, Line: line, Kind: "too large", What: fmt.Sprintf("over %d rows; from here on they are not read", l.form.MostRows), Fix: l.form.Instead})
				return
			}
			if !yield(Row{line, cells, l}) {
				return
			}
		}
	}
}

// unquoted tells of quotation marks that do not fit. One that is never closed takes every line up to the end of the file with it, so the fault
// stands at the line where it opens and says how far it reaches.
func (l *List) unquoted(bad *csv.ParseError) diag.Fault {
	what := fmt.Sprintf("%v, at byte %d of the line", bad.Err, bad.Column)
	if bad.Line > bad.StartLine {
		what = fmt.Sprintf("%v; lines %d to %d are left out", bad.Err, bad.StartLine, bad.Line)
	}
	return diag.Fault{File: l.Name, Line: bad.StartLine, Kind: "not CSV", What: what, Fix: "mend the quotation marks"}
}

// reader cuts the text. Rows may have any number of cells: people leave the empty ones at the end of a row away. Blanks before a cell are
// passed over so that a quotation mark behind one still opens the cell, but not between tabs: the reader would take those for blanks too.
func (l *List) reader(separator rune) *csv.Reader {
	in := csv.NewReader(strings.NewReader(l.text))
	in.Comma, in.FieldsPerRecord, in.TrimLeadingSpace = separator, -1, separator != '\t'
	return in
}
