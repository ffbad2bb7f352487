package ssurgo

import (
	"context"
	"errors"
	"io/fs"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
)

// The two metadata tables that describe an export. Their own layout cannot be looked up in themselves; it is the same
// in every export seen: mstab is physical name, logical name, label, description, file name; mstabcol begins with
// physical table name, position, physical column name.
var (
	tablesLayout  = layout{table: "mdstattabs", file: "mstab", width: 5, columns: map[string]column{"table": {at: 0}, "file": {at: 4}}}
	columnsLayout = layout{table: "mdstattabcols", file: "mstabcol", width: 14, columns: map[string]column{
		"table": {at: 0}, "position": {at: 1}, "column": {at: 2}}}
)

// ownSchema returns the built-in schema corrected by what the export says of itself. An export that does not
// describe itself, or in part, keeps the built-in layout for the rest.
func (a *area) ownSchema(ctx context.Context) (schema, error) {
	s := builtin()
	described, err := a.ownColumns(ctx, s)
	if err != nil {
		return nil, err
	}
	for _, name := range sortedKeys(s) {
		// in the order of names, so that notices come in one order
		a.adopt(s[name], described[name])
	}
	return s, a.ownFiles(ctx, s)
}

// ownColumns reads mstabcol: for each table that we read, column name to 1-based position.
func (a *area) ownColumns(ctx context.Context, s schema) (map[string]map[string]int, error) {
	described := map[string]map[string]int{}
	err := a.read(ctx, &columnsLayout, func(r *record) {
		table := r.text("table")
		at, err := strconv.Atoi(r.text("position"))
		// Rows about tables that are not read, and rows that make no sense, are passed over without a word: the built-in
		// layout stands behind them.
		if s[table] == nil || err != nil || at < 1 || at > maxFields {
			return
		}
		if described[table] == nil {
			described[table] = map[string]int{}
		}
		described[table][r.text("column")] = at
	})
	return described, ignoreMissing(err)
}

// ownFiles reads mstab: the file that holds each table.
func (a *area) ownFiles(ctx context.Context, s schema) error {
	return ignoreMissing(a.read(ctx, &tablesLayout, func(r *record) {
		// a name with a path in it would lead out of the folder
		if l, file := s[r.text("table")], r.text("file"); l != nil && file != "" && !strings.ContainsAny(file, `/\`) {
			l.file = strings.ToLower(strings.TrimSuffix(file, ".txt"))
		}
	}))
}

// adopt puts the positions that the export declares in place of the built-in ones and tells where they differ.
// A column that the export does not have is read as missing throughout.
func (a *area) adopt(l *layout, described map[string]int) {
	// an export that says nothing of the table
	if len(described) == 0 {
		return
	}
	// A description without the keys is of something else, or damaged: joined by it, every record would be an orphan.
	if missing := l.missingKey(described); missing != "" {
		a.faults.Notice(diag.Fault{File: a.path("mstabcol"), Field: l.table + "." + missing, Kind: "description unusable",
			What: "the export's description of the table lacks its key column", Fix: "the layout of SSURGO 2.3.3 is taken"})
		return
	}
	width := 0
	for _, at := range described {
		// of all columns, those that are not read included: records are told from damage by their width
		width = max(width, at)
	}
	for _, name := range sortedKeys(l.columns) {
		c := l.columns[name]
		at, has := described[name]
		switch {
		// older layouts lack properties that were published later
		case !has:
			delete(l.columns, name)
			a.faults.Notice(diag.Fault{File: a.path("mstabcol"), Field: l.table + "." + name, Kind: "column absent",
				What: "the export does not have this column", Fix: "it is taken as not recorded"})
		case at-1 != c.at:
			a.faults.Notice(diag.Fault{File: a.path("mstabcol"), Field: l.table + "." + name, Kind: "column moved",
				What: "column " + strconv.Itoa(at) + " here, " + strconv.Itoa(c.at+1) + " in SSURGO 2.3.3",
				Fix:  "the export's own word is taken"})
			c.at = at - 1
			l.columns[name] = c
		}
	}
	l.width = width
}

// missingKey returns a key column of the table that a description lacks; every table that we read is joined by its keys.
func (l *layout) missingKey(described map[string]int) string {
	for _, name := range sortedKeys(l.columns) {
		if _, has := described[name]; !has && (strings.HasSuffix(name, "key") || name == "areasymbol") {
			return name
		}
	}
	return ""
}

// ignoreMissing turns a missing file into no error.
func ignoreMissing(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
