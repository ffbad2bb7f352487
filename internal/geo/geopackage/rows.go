package geopackage

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

// Row is one row of a table. It is valid only during the call it is handed to.
type Row struct {
	Index int // place in the table, from 0

	values []any // nil, int64, float64, string, []byte
}

// Text returns value i of the columns asked for as text: a number in the fewest digits that tell it, blanks around
// left in. It is empty when the value is missing, when the table has no such column, and for binary values.
func (r *Row) Text(i int) string {
	switch v := r.values[i].(type) {
	case string:
		return clean(v)
	case int64:
		return strconv.FormatInt(v, 10)
	case float64:
		return string(feature.JSON(v))
	}
	return ""
}

// Bytes returns value i if it is binary, else nil.
func (r *Row) Bytes(i int) []byte {
	b, _ := r.values[i].([]byte)
	return b
}

// JSON returns value i as it is stored: a number, a string, or null, which binary values are too.
func (r *Row) JSON(i int) json.RawMessage { return feature.JSON(r.values[i]) }

// Rows calls f for every row with the columns of these names, in that order; capitals do not matter, nil means all. A
// column the table does not have is always missing. It stops at the first error of f, which it returns as it is.
//
// Damage behind the first row is a fault: the rows before it are kept. The error says why nothing could be read, or is
// the cause why ctx is done.
func (t *Table) Rows(ctx context.Context, names []string, f func(*Row) error) error {
	if names == nil {
		for _, c := range t.Columns {
			names = append(names, c.Name)
		}
	}
	list := make([]string, len(names))
	for i, name := range names {
		// A column that is not there takes a place all the same, so that values stand where they were asked for.
		list[i] = "NULL"
		if at := t.Column(name); at >= 0 {
			list[i] = "+" + quote(t.Columns[at].Name) // with the sign, the library hands out the value as stored, also of columns it takes for times
		}
	}
	// NOT INDEXED: a damaged or hostile index could hand out rows that the table does not have.
	n, err, mine := t.scan(ctx, "SELECT "+strings.Join(list, ", ")+" FROM "+quote(t.Name)+" NOT INDEXED", len(names), f)
	switch {
	case mine || err == nil:
		return err
	// Without a row nothing was read, and a failing disk is no damage of the file.
	case ctx.Err() != nil || n == 0 || t.db.source.failure() != nil:
		return t.db.explain(ctx, err)
	}
	what := strings.TrimPrefix(t.db.explain(ctx, err).Error(), t.db.name+": ")
	t.db.faults.Add(diag.Fault{File: t.db.name, Feature: "table " + t.Name, Kind: "damaged", What: fmt.Sprintf("it breaks off after %d rows: %s", n, what)})
	return nil
}

// scan runs one statement and returns how many rows were handed on; mine tells that the error is that of f.
func (t *Table) scan(ctx context.Context, statement string, width int, f func(*Row) error) (n int, err error, mine bool) {
	rows, err := t.db.conn.QueryContext(ctx, statement)
	if err != nil {
		return 0, err, false
	}
	defer rows.Close()
	r := Row{values: make([]any, width)}
	// Pointers to the values of one Row, which all rows use again.
	into := make([]any, width)
	for i := range into {
		into[i] = &r.values[i]
	}
	left := budgetOf(t.db.source.size)
	for ; rows.Next(); n++ {
		if err := ctx.Err(); err != nil {
			return n, err, false
		}
		if err := rows.Scan(into...); err != nil {
			return n, err, false
		}
		// After the scan of a row, which maxValue bounds by itself.
		if !left.take(r.values) {
			return n, errors.New("it holds more than its file has room for; it is damaged or hostile"), false
		}
		r.Index = n
		if err := f(&r); err != nil {
			return n, err, true
		}
	}
	return n, rows.Err(), false
}

// budget bounds one pass over a table, in which a hostile file can hand out the same page again and again.
type budget struct{ rows, bytes int64 }

// budgetOf allows what a file of that size can hold. A row takes four bytes at least; texts may be stored in the half,
// and columns added later give every row a value that is stored once.
func budgetOf(size int64) budget { return budget{size/4 + 16, 4*size + 64<<20} }

// take counts a row and its texts and blobs; false when the file cannot hold so much.
func (b *budget) take(values []any) bool {
	b.rows--
	for _, v := range values {
		switch v := v.(type) {
		case string:
			b.bytes -= int64(len(v))
		case []byte:
			b.bytes -= int64(len(v))
		}
	}
	return b.rows >= 0 && b.bytes >= 0
}
