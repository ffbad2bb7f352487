package lab

import (
	"fmt"
	"strings"
)

// Understood explains a file: what it is, and what each column was taken for.
type Understood struct {
	Format  string   // e.g. "text with semicolons, Windows-1252"
	Notes   []string // on the file as a whole: header line, decimal mark, sheets left out
	Columns []Column // in the order of the file
	Layers  []string // the layers found, shallowest first, e.g. "0 to 20.32 cm: 20 samples"
}

// Column is what one column was taken for. Of a Modus file it is one kind of result.
type Column struct {
	Sheet    string // of a spreadsheet; else empty
	Number   int    // 1-based
	Header   string // as the file writes it; with " #2" for the second of one name
	UnitCell string // the cell of the units row; empty when there is none
	As       string // plain name, e.g. "p_m3_ppm"; empty when the column is not used
	Quantity string // e.g. "phosphorus"
	Unit     string // as printed, e.g. "lb/ac"; empty when it has none
	Method   string // e.g. "Mehlich-3" or "buffer not stated"; empty when that is no question
	Assumed  string // what was taken for granted; empty when the file says it all
	Why      string // why it is not used; empty when it is
	Ask      string // what to ask the laboratory; empty when nothing

	Values  int // figures, dates and names read
	Beyond  int // of these, beyond what the method can tell ("<25", "ND")
	Missing int // cells left empty
	Refused int // cells that hold something that cannot be used as long as the question is open
	Faulty  int // cells that could not be read
	Unused  int // cells that hold something, of a column that is not used
}

// Used says whether anything of the column went into the samples.
func (c Column) Used() bool { return c.As != "" && c.Values > 0 }

// String says it in one line.
func (c Column) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "column %d %q: ", c.Number, c.Header)
	if c.Why != "" {
		fmt.Fprintf(&b, "%s not used: %s", values(c.Unused), c.Why)
	} else {
		b.WriteString(c.Quantity)
		for _, s := range []string{c.Method, c.Unit} {
			if s != "" {
				b.WriteString(", " + s)
			}
		}
		fmt.Fprintf(&b, " (%s): %s", c.As, values(c.Values))
		for _, n := range []struct {
			count int
			words string
		}{{c.Beyond, "beyond detection"}, {c.Missing, "missing"}, {c.Refused, "not usable yet"}, {c.Faulty, "unreadable"}} {
			if n.count > 0 {
				fmt.Fprintf(&b, ", %d %s", n.count, n.words)
			}
		}
	}
	if c.Assumed != "" {
		b.WriteString("; taken for granted: " + c.Assumed)
	}
	if c.Ask != "" {
		b.WriteString("; ask the laboratory: " + c.Ask)
	}
	return b.String()
}

// values counts in words.
func values(n int) string {
	if n == 1 {
		return "1 value"
	}
	return fmt.Sprintf("%d values", n)
}

// notUsed says that so many values are not used.
func notUsed(n int) string {
	if n == 1 {
		return "1 value is not used: "
	}
	return values(n) + " are not used: "
}

// Mapping returns what was understood as a mapping: kept and given back, it reads the file the same way, whatever the
// header synonyms have become since. What was not used is left open, so that an answer can be filled in.
func (u Understood) Mapping() *Mapping {
	m := &Mapping{Columns: map[string]string{}}
	for _, c := range u.Columns {
		// a column without a header cannot be named in a mapping
		if c.As != "" && c.Header != "" && plainName(c.As).holds != nothing {
			m.Columns[c.Header] = c.As
		}
	}
	return m
}

// explain makes the public account of a column.
func explain(c column, sheet string, number int, header, unitCell string) Column {
	return Column{Sheet: sheet, Number: number, Header: header, UnitCell: unitCell, As: c.code(), Quantity: c.quantity(),
		Unit: c.unit.String(), Method: c.method(), Assumed: c.assumed, Why: c.why, Ask: c.ask}
}
