package ssurgo

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// record is one record of a table. It is valid during the call that hands it over: texts that are kept are copied.
type record struct {
	table  *table
	fields []string
	line   int // 1-based, where the record begins
}

// text returns a cell without padding, empty when null: an empty quoted text is null too. The result shares memory
// with the record.
func (r *record) text(column string) string {
	// a column that the export does not have, and a cell beyond the end, are null alike
	at, ok := r.table.columns[column]
	if !ok || at >= len(r.fields) {
		return ""
	}
	// texts come padded, yes and no to three letters
	s := strings.TrimSpace(r.fields[at])
	if !utf8.ValidString(s) {
		// once a file: one such letter seldom comes alone
		if !r.table.badText {
			r.table.badText = true
			r.table.area.faults.Notice(diag.Fault{File: r.table.name, Line: r.line, Field: column, Kind: "text encoding",
				What: "the text is not UTF-8", Fix: "it is read as Windows-1252"})
		}
		s = fromWindows1252(s)
	}
	return s
}

// real returns a number, missing when the cell is null, no number, or outside the bounds of its column; the last two
// are told.
func (r *record) real(column string) unit.Opt[float64] {
	s := r.text(column)
	if s == "" {
		return unit.None[float64]()
	}
	if r.table.area.source != nil {
		// of text files each digit was written by the agency; a database may have kept less than it was given
		s = denoised(s)
	}
	v, err := parseNumber(s)
	if err != nil {
		r.fault(column, "number", fmt.Sprintf("%q is not a number", clip(s)), "it is taken as not recorded")
		return unit.None[float64]()
	}
	// Bounds are those of what the column can mean (a pH of 65 lost its point). Out of them nothing is guessed.
	if c := r.table.layout.columns[column]; c.ranged && (v < c.min || v > c.max) {
		r.fault(column, "range", fmt.Sprintf("%q is not between %g and %g", clip(s), c.min, c.max), "it is taken as not recorded")
		return unit.None[float64]()
	}
	return unit.Some(v)
}

// parseNumber reads a plain decimal number: no NaN, infinity, hexadecimal or digit separators.
func parseNumber(s string) (float64, error) {
	// the library reads "inf" and "0x1p4" as numbers too
	if strings.Trim(s, "0123456789+-.eE") != "" {
		return 0, strconv.ErrSyntax
	}
	return strconv.ParseFloat(s, 64)
}

// quantity is [record.real] as a typed quantity.
func quantity[T ~float64](r *record, column string) unit.Opt[T] {
	if v, ok := r.real(column).Get(); ok {
		return unit.Some(T(v))
	}
	return unit.None[T]()
}

// yes reads a yes/no cell; they are padded to three letters, and databases may have them as truth values. Null is no.
func (r *record) yes(column string) bool {
	s := r.text(column)
	switch strings.ToLower(s) {
	case "yes", "1", "true":
		return true
	case "no", "0", "false", "":
	default:
		r.unknownWord(column, s)
	}
	return false
}

// unknownWord tells of a word that its domain does not have.
func (r *record) unknownWord(column, word string) {
	r.table.area.faults.Notice(diag.Fault{File: r.table.name, Line: r.line, Field: column, Kind: "unknown word",
		What: fmt.Sprintf("%q is not among the words of this column", clip(word)), Fix: "no meaning is read into it"})
}

// fault tells of a cell; the record goes on without it.
func (r *record) fault(column, kind, what, fix string) {
	r.table.area.faults.Add(diag.Fault{File: r.table.name, Line: r.line, Field: column, Kind: kind, What: what, Fix: fix})
}

// clip shortens a text for a message.
func clip(s string) string {
	const most = 60
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most], "") + "…"
}
