package ssurgo

import (
	"cmp"
	"slices"
)

// Table is the layout of one table of an export, for those who write one.
type Table struct {
	Name    string        // e.g. "component"
	File    string        // without folder and suffix, e.g. "comp"
	Width   int           // fields of a record
	Columns []TableColumn // those that this package reads, by position
}

// TableColumn is one column that this package reads.
type TableColumn struct {
	Name     string
	Position int // in a record, from 1
}

// Tables returns the layout of every table that this package reads, by name, as SSURGO 2.3.3 has it. A survey that
// holds these columns at these places reads back without loss.
func Tables() []Table {
	// a copy: writers may not change what readers go by
	s := builtin()
	out := make([]Table, 0, len(s))
	for _, name := range sortedKeys(s) {
		l := s[name]
		t := Table{Name: l.table, File: l.file, Width: l.width}
		// in any order; sorted by position below
		for column, c := range l.columns {
			t.Columns = append(t.Columns, TableColumn{Name: column, Position: c.at + 1})
		}
		slices.SortFunc(t.Columns, func(a, b TableColumn) int { return cmp.Compare(a.Position, b.Position) })
		out = append(out, t)
	}
	return out
}
