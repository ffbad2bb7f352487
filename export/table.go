package export

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"
)

// Table is a CSV file in the making (RFC 4180): CR LF, a header row, quotes doubled, point as decimal mark. What is not known is an empty
// cell, never zero. Every cell that a spreadsheet could run as a formula gets a leading '; plain numbers stay numbers, negative ones too. Its
// first error is kept and returned by [Table.Close].
type Table struct {
	w     *csv.Writer
	cells []string
	err   error
}

// NewTable starts a table with its header row.
func NewTable(w io.Writer, columns ...string) *Table {
	t := &Table{w: csv.NewWriter(w)}
	t.w.UseCRLF = true
	t.Row(columns...)
	return t
}

// Row writes one row.
func (t *Table) Row(cells ...string) {
	t.cells = t.cells[:0] // kept from row to row, since csv.Writer keeps none, and the caller's cells stay as they are
	for _, c := range cells {
		t.cells = append(t.cells, guarded(c))
	}
	if t.err == nil {
		t.err = t.w.Write(t.cells)
	}
}

// Close flushes the table and returns the first error of all writing. It does not close the writer below.
func (t *Table) Close() error {
	t.w.Flush()
	if t.err != nil {
		return t.err
	}
	return t.w.Error()
}

// Digits prints a number for a table, with at most that many decimals or, with [Exact], as many as it takes: point, no exponent, no thousands
// mark, no trailing zeros, no minus before zero. What is not finite is not known: "".
func Digits(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// YesNo prints what is known to be so or not.
func YesNo(is bool) string {
	if is {
		return "yes"
	}
	return "no"
}

// guarded puts ' before text that a spreadsheet would run as a formula: names of fields and owners come from files of others. A plain number
// is left alone, as it cannot do harm; it is told by its letters, since ParseFloat also takes "-Inf" and "-0x1p4", which spreadsheets do not.
// Source: common practice, no source.
func guarded(s string) string {
	if s == "" || !strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return s
	}
	if _, err := strconv.ParseFloat(s, 64); err == nil && strings.Trim(s, "+-0123456789.") == "" {
		return s
	}
	return "'" + s
}
