package geopackage

import (
	"context"
	"database/sql"
	"fmt"
	"strings"
	"unicode/utf8"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

// Table is one table that holds rows of its own.
type Table struct {
	Name    string   // as the database has it
	Columns []Column // in order; computed ones are left out

	db  *DB
	key string // of its rows: the INTEGER PRIMARY KEY; empty when there is none
}

// Column is one column of a table.
type Column struct {
	Name string // as the database has it
	Type string // as declared, in any spelling: "TEXT(20)", "mediumint", or nothing; says little about the values
}

// Column returns the place of the column of that name (capitals do not matter), or -1.
func (t *Table) Column(name string) int {
	for i, c := range t.Columns {
		if strings.EqualFold(c.Name, name) {
			return i
		}
	}
	return -1
}

// Tables returns all tables that can be read, in the order they were made.
func (d *DB) Tables() []*Table { return d.tables }

// Table returns the table of that name: the one spelled the same if there is one, else one in other capitals.
func (d *DB) Table(name string) (*Table, bool) {
	var found *Table
	for _, t := range d.tables {
		switch {
		case t.Name == name:
			return t, true
		case found == nil && strings.EqualFold(t.Name, name):
			found = t
		}
	}
	return found, found != nil
}

// maxTables bounds the list of tables; a survey has about seventy.
const maxTables = 10_000

// list reads names and columns of all tables.
func (d *DB) list(ctx context.Context) error {
	names, err := d.names(ctx)
	if err != nil {
		return err
	}
	// After the list was closed, since there is one connection and a statement in the middle would hold it.
	for _, name := range names {
		t := &Table{Name: name, db: d}
		if err := t.describe(ctx); err != nil {
			return err
		}
		d.tables = append(d.tables, t)
	}
	return nil
}

// names returns the names of ordinary tables and keeps those of others.
func (d *DB) names(ctx context.Context) ([]string, error) {
	// With the sign the library hands out what is stored and does not use an index: see Rows.
	rows, err := d.conn.QueryContext(ctx, `SELECT +name, +type, +sql FROM sqlite_schema NOT INDEXED`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []string
	seen := map[string]bool{} // a damaged list may have a row twice
	for n := 0; rows.Next(); n++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		// Indexes count too: they stand in the same list.
		if n > maxTables {
			return nil, fmt.Errorf("it lists more than %d tables and indexes; it is damaged or hostile", maxTables)
		}
		var name, kind, text sql.NullString
		if err := rows.Scan(&name, &kind, &text); err != nil {
			return nil, err
		}
		// A virtual table has no rows of its own: code of the library makes them, and is not run.
		virtual := len(text.String) > 14 && strings.EqualFold(text.String[:14], "CREATE VIRTUAL")
		switch {
		case kind.String == "view" || virtual:
			d.others = append(d.others, other{name.String, map[bool]string{true: "a virtual table", false: "a view"}[virtual]})
		case kind.String == "table" && !seen[name.String]:
			seen[name.String] = true
			out = append(out, name.String)
		}
	}
	return out, rows.Err()
}

// describe reads the columns.
// The pragma gives, in this order: place, name, type, not null, default, place in the key, and whether the column is
// hidden.
func (t *Table) describe(ctx context.Context) error {
	rows, err := t.db.conn.QueryContext(ctx, `PRAGMA table_xinfo(`+quote(t.Name)+`)`)
	if err != nil {
		return err
	}
	defer rows.Close()
	keys := 0
	for rows.Next() {
		var place, notNull, key, hidden int
		var name, kind string
		var standard any
		if err := rows.Scan(&place, &name, &kind, &notNull, &standard, &key, &hidden); err != nil {
			return err
		}
		// Anything but 0 is a column of a virtual table or a generated one.
		if hidden != 0 {
			t.db.faults.Notice(diag.Fault{File: t.db.name, Field: feature.Shorten(t.Name + "." + name), Kind: "computed column", What: "the column is computed, not stored, and is left out"})
			continue
		}
		if key > 0 {
			// Only a lone key of exactly that type is the number of the row itself.
			if keys++; keys == 1 && strings.EqualFold(kind, "INTEGER") {
				t.key = name
			} else {
				t.key = ""
			}
		}
		t.Columns = append(t.Columns, Column{name, kind})
	}
	return rows.Err()
}

// quote makes a name of the database safe within a statement.
func quote(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

// clean returns text of the database as valid UTF-8.
func clean(s string) string {
	if utf8.ValidString(s) {
		return s
	}
	return strings.ToValidUTF8(s, "\ufffd")
}
