package workbook

import (
	"fmt"
	"io"

	"rootworthy/internal/diag"
)

// Sheet is one sheet: its name, and its rows from the top; rows without cells are left out.
type Sheet struct {
	Name   string
	Hidden bool
	Rows   []Row
}

// Row is one row. Cells start at column A; cells that the row lacks are empty.
type Row struct {
	Number int // 1-based, as the spreadsheet shows it
	Cells  []string
}

// Bounds. A laboratory's workbook is some megabytes unpacked; these leave room for a hundred times as much.
const (
	mostPart    = 32 << 20 // bytes of one part, unpacked
	mostAll     = 96 << 20 // bytes of all parts that are read
	mostStrings = 500000   // shared strings
	mostCells   = 2000000  // cells of all sheets, empty ones before the last of a row included
	widest      = 1024     // columns
	deepest     = 64       // elements within each other
)

// Open reads all sheets. Cells that cannot be read are faults and come out empty; the error says that r is no workbook,
// is damaged, or unpacks to more than the bounds.
func Open(name string, r io.ReaderAt, size int64, faults *diag.List) ([]Sheet, error) {
	p, err := openParts(r, size)
	if err != nil {
		return nil, fmt.Errorf("%s: not a readable workbook: %w", name, err)
	}
	b := &book{file: name, parts: p, faults: faults}
	if err := b.read(); err != nil {
		return nil, fmt.Errorf("%s: not a readable workbook: %w", name, err)
	}
	return b.sheets, nil
}
