package workbook

import (
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
)

// cell is one cell as the part writes it.
type cell struct {
	column  int    // 0-based; -1 when the part does not say
	kind    string // attribute t
	style   int    // attribute s
	value   string // element v, or the text of is
	formula bool
}

// sheetReader collects the rows of one sheet.
type sheetReader struct {
	*book
	name     string
	rows     []Row
	cur      Row
	at       cell
	text     strings.Builder // of the v or t being read
	open     bool            // inside v or t
	phonetic int             // inside readings for Asian scripts
	full     bool            // the bound on cells was told, once a sheet
}

// readRows reads the rows of a sheet part.
func (b *book) readRows(name, part string) ([]Row, error) {
	r := &sheetReader{book: b, name: name}
	err := b.parts.walk(part, func(_ *xml.Decoder, t xml.Token) error {
		switch t := t.(type) {
		case xml.StartElement:
			r.start(t)
		case xml.CharData:
			if r.open {
				r.text.Write(t)
			}
		case xml.EndElement:
			r.end(t.Name.Local)
		}
		return nil
	})
	return r.rows, err
}

// start and end follow the elements: row, c for a cell, v for its value, is and t for text within it, f for a formula.
func (r *sheetReader) start(e xml.StartElement) {
	switch e.Name.Local {
	case "row":
		// rows that do not say their number follow the last one; none goes back
		number := 1
		if n := len(r.rows); n > 0 {
			number = r.rows[n-1].Number + 1
		}
		if n, err := strconv.Atoi(attr(e, "r")); err == nil && n >= number {
			number = n
		}
		r.cur = Row{Number: number}
	case "c":
		style, _ := strconv.Atoi(attr(e, "s"))
		r.at = cell{column: columnOf(attr(e, "r")), kind: attr(e, "t"), style: style}
		r.text.Reset()
	case "v", "t":
		r.open = r.phonetic == 0
	case "rPh":
		r.phonetic++
	case "f":
		r.at.formula = true
	}
}

// end puts a cell only when it closes: its kind stands in its tag, its value comes after.
func (r *sheetReader) end(name string) {
	switch name {
	case "v", "t":
		r.open = false
	case "rPh":
		r.phonetic--
	case "c":
		r.at.value = r.text.String()
		r.put()
	case "row":
		if len(r.cur.Cells) > 0 {
			r.rows = append(r.rows, r.cur)
		}
	}
}

// put sets the cell in its row, within the bounds.
func (r *sheetReader) put() {
	i := r.at.column
	// a cell without a place follows the last one that holds something
	if i < 0 {
		i = len(r.cur.Cells)
	}
	text := r.read(r.at)
	// programs save cells that are only coloured
	if text == "" {
		return
	}
	if i >= widest {
		r.fault(r.name, r.cur.Number, "too wide", fmt.Sprintf("the row has over %d columns; the rest of it is not read", widest), "keep the table to the first columns")
		return
	}
	grow := i + 1 - len(r.cur.Cells)
	// empty cells before this one count as well: one cell far to the right makes a long row
	if r.full || grow > 0 && r.cells+grow > mostCells {
		if !r.full {
			r.fault(r.name, r.cur.Number, "too large", fmt.Sprintf("the workbook has over %d cells; the rest from here on is not read", mostCells), "split it")
		}
		r.full = true
		return
	}
	if grow > 0 {
		r.cells += grow
		r.cur.Cells = append(r.cur.Cells, make([]string, grow)...)
	}
	// of two cells in one place the later stands
	r.cur.Cells[i] = text
}

// columnOf reads the letters of "BC12" as a 0-based column; -1 when there are none.
func columnOf(ref string) int {
	n := 0
	for i := range len(ref) {
		c := ref[i] &^ 0x20 // upper case
		if c < 'A' || c > 'Z' || n > 1<<20 {
			break
		}
		n = n*26 + int(c-'A') + 1
	}
	return n - 1
}

// read gives the cell as text.
func (r *sheetReader) read(c cell) string {
	value := strings.TrimSpace(c.value)
	switch c.kind {
	case "s":
		n, err := strconv.Atoi(value)
		if err != nil || n < 0 || n >= len(r.strings) {
			r.fault(r.name, r.cur.Number, "bad string", fmt.Sprintf("a cell names string %.20q, which the workbook does not hold", value), "save the workbook again in a spreadsheet program")
			return ""
		}
		return r.strings[n]
	case "inlineStr", "str":
		return unescape(c.value)
	case "e": // "#N/A", "#DIV/0!"
		return value
	case "b":
		// any other figure is neither, and comes out empty
		return map[string]string{"1": "TRUE", "0": "FALSE"}[value]
	case "d": // ISO 8601
		return value
	}
	if value == "" && c.formula {
		r.fault(r.name, r.cur.Number, "formula without value", "a cell holds a formula without its value", "open and save the workbook in a spreadsheet program")
	}
	return r.figure(value, c.style)
}
