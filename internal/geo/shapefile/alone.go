package shapefile

import (
	"fmt"
	"io/fs"

	"rootworthy/internal/diag"
)

// Table calls f for every row of a .dbf that stands alone, such as the value table of a raster, and stops at its first
// error, which it returns as it is. Name is what the user called the file. Rows are valid during the call; those marked
// as deleted are passed over. Damage behind the first row is a fault, what stands before it is kept.
func Table(name string, fsys fs.FS, dbf string, faults *diag.List, f func(*Record) error) error {
	// A layer without shapes: table, columns and rows are then those of any other.
	l := &Layer{Name: name, fsys: fsys, files: siblings{dbf: dbf}, faults: faults}
	if err := l.openTable(); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	// No .cpg is looked for; the language byte decides.
	l.text, _ = chooseCharset("", l.table.language)
	l.nameColumns()
	rows, err := l.openRows()
	if err != nil {
		return err
	}
	defer rows.close()
	rec := &Record{layer: l}
	for rows.n < l.table.rows {
		row, err := rows.next()
		// nil is the end, or damage that next told.
		if err != nil || row == nil {
			return err
		}
		if rec.Index, rec.row = rows.n-1, row; row[0] == rowDeleted {
			continue
		}
		if err := f(rec); err != nil {
			return err
		}
	}
	return nil
}
