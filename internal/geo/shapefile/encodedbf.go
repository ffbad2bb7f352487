package shapefile

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Widths the format allows, in bytes. N: dBASE III gives a number at most 19 places.
const (
	maxTextWidth   = 254
	maxNumberWidth = 19
	maxNameLen     = 10
)

// checkColumns returns a copy of the columns, or what is wrong with them.
func checkColumns(columns []Column) ([]Column, error) {
	if len(columns) == 0 {
		return nil, fmt.Errorf("a table needs at least one column")
	}
	seen := map[string]bool{}
	out := make([]Column, len(columns))
	for i, c := range columns {
		// Readers of the format do not tell capitals apart.
		key := strings.ToUpper(c.Name)
		switch {
		case !validName(c.Name):
			return nil, fmt.Errorf("column name %q: the format takes up to %d letters, digits and underlines, a letter first", c.Name, maxNameLen)
		case seen[key]:
			return nil, fmt.Errorf("column name %q stands twice", c.Name)
		// memo texts and binary numbers would need files or bytes of their own
		case !c.readable() || c.Type == 0:
			return nil, fmt.Errorf("column %s: type %q is none of C, N, F, D, L", c.Name, string(rune(c.Type)))
		case c.Width < 0 || c.Width > c.most() || c.Decimals < 0 || c.Decimals > 15:
			return nil, fmt.Errorf("column %s: width %d with %d decimals is outside the format", c.Name, c.Width, c.Decimals)
		}
		seen[key] = true
		out[i] = c
	}
	return out, nil
}

// validName says whether every reader of the format takes the name.
func validName(s string) bool {
	for i, r := range s {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		if !letter && (i == 0 || r != '_' && (r < '0' || r > '9')) {
			return false
		}
	}
	return len(s) >= 1 && len(s) <= maxNameLen
}

// most returns the greatest width a column of its type may get; the user's width counts if he gave one.
func (c Column) most() int {
	switch {
	case c.Width > 0 && c.Width < maxTextWidth:
		return min(c.Width, c.limit())
	default:
		return c.limit()
	}
}

// limit is the widest that the format lets a column of the type be, in bytes.
func (c Column) limit() int {
	switch c.Type {
	case 'C':
		return maxTextWidth
	case 'D':
		return 8
	case 'L':
		return 1
	}
	return maxNumberWidth
}

// fixWidths gives columns of width 0 what their widest value needs.
func fixWidths(columns []Column, widest []int) error {
	// the deletion mark stands before the first column
	at := 1
	for i := range columns {
		c := &columns[i]
		switch {
		case c.Type == 'D' || c.Type == 'L':
			c.Width = c.limit()
		case c.Width == 0:
			// A column of nothing but missing values still needs a place: width 0 is no column.
			c.Width = max(1, min(widest[i], c.limit()))
		}
		c.offset = at
		at += c.Width
	}
	return nil
}

// format returns v as it stands in a cell, without the blanks around it. Text is not cut here; a number is given
// fewer decimals if it would be too wide, and refused if it still is.
func (c Column) format(v any) (string, error) {
	switch v := v.(type) {
	// blank: the format has no other way to say missing
	case nil:
		return "", nil
	case string:
		switch c.Type {
		case 'C':
			return strings.Map(printable, strings.ToValidUTF8(v, "\ufffd")), nil
		case 'D':
			return formatDate(v)
		}
	case bool:
		if c.Type == 'L' {
			if v {
				return "T", nil
			}
			return "F", nil
		}
	case int:
		if c.Type == 'N' || c.Type == 'F' {
			return c.fit(strconv.Itoa(v))
		}
	case float64:
		if c.Type == 'N' || c.Type == 'F' {
			return c.formatFloat(v)
		}
	}
	return "", fmt.Errorf("%v is no value for type %c", v, c.Type)
}

// printable turns line ends and other control letters, which break readers of the format, into blanks.
func printable(r rune) rune {
	if r < ' ' || r == 0x7f {
		return ' '
	}
	return r
}

// formatDate writes 2024-02-29 as the format has it, 20240229.
func formatDate(s string) (string, error) {
	d := strings.ReplaceAll(s, "-", "")
	if len(s) != 10 || len(d) != 8 || !digits(d) {
		return "", fmt.Errorf("%q is no date YYYY-MM-DD", s)
	}
	return d, nil
}

// formatFloat writes a number with the column's decimals, fewer where they do not fit.
func (c Column) formatFloat(v float64) (string, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "", fmt.Errorf("%v is no number a table can hold; leave it missing", v)
	}
	text := ""
	// Digits behind the point go before those in front of it: a rounded acreage is of use, one without its thousands is
	// none.
	for decimals := c.Decimals; decimals >= 0; decimals-- {
		text = strconv.FormatFloat(v, 'f', decimals, 64)
		if strings.Trim(text, "-0.") == "" {
			text = strings.TrimPrefix(text, "-") // no minus zero
		}
		if len(text) <= c.most() {
			break
		}
	}
	return c.fit(text)
}

// fit refuses a number that is too wide: with its first digits cut off it would be another.
func (c Column) fit(text string) (string, error) {
	if len(text) > c.most() {
		return "", fmt.Errorf("%s does not fit its %d places", text, c.most())
	}
	return text, nil
}

// WriteDBF writes the attribute table. Its date is fixed, so that equal rows give equal bytes.
func (e *Encoder) WriteDBF(w io.Writer) error {
	// the header goes out with the first row, or alone where there is none
	b := e.tableHeader()
	n := 0
	for _, values := range e.rows {
		if n++; len(values) != len(e.columns) {
			return errChanged
		}
		// not deleted
		b = append(b, ' ')
		for i, c := range e.columns {
			text, err := c.format(values[i])
			if err != nil {
				return fmt.Errorf("row %d: column %s: %w", n, c.Name, err)
			}
			b = c.appendCell(b, text)
		}
		if _, err := w.Write(b); err != nil {
			return err
		}
		b = b[:0]
	}
	// the header has the count of the first walk
	if n != e.n {
		return errChanged
	}
	_, err := w.Write(append(b, fileEnd))
	return err
}

// tableHeader is the header of the .dbf with its columns. No language byte is set: the .cpg says the encoding.
func (e *Encoder) tableHeader() []byte {
	b := make([]byte, dbfHead)
	b[0], b[1], b[2], b[3] = 0x03, 80, 1, 1 // dBASE III, "last changed" 1980-01-01
	binary.LittleEndian.PutUint32(b[4:], uint32(e.n))
	binary.LittleEndian.PutUint16(b[8:], uint16(dbfHead*(1+len(e.columns))+1))
	binary.LittleEndian.PutUint16(b[10:], uint16(total(e.columns)))
	for _, c := range e.columns {
		d := make([]byte, dbfHead)
		copy(d, c.Name)
		// the other bytes are for indexes and memory addresses of the first programs, and zero in files
		d[11], d[16], d[17] = c.Type, byte(c.Width), byte(c.Decimals)
		b = append(b, d...)
	}
	return append(b, dbfEnd)
}

// appendCell pads the text to the column's width: numbers stand right, the rest left. Text that is too long loses
// its end at a letter border.
func (c Column) appendCell(b []byte, text string) []byte {
	for len(text) > c.Width {
		// Half a letter would make the whole cell invalid for readers that believe the .cpg.
		_, size := utf8.DecodeLastRuneInString(text)
		text = text[:len(text)-size]
	}
	blanks := strings.Repeat(" ", c.Width-len(text))
	if c.Type == 'N' || c.Type == 'F' {
		return append(append(b, blanks...), text...)
	}
	return append(append(b, text...), blanks...)
}
