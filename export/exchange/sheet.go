package exchange

import (
	"bufio"
	"context"
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// Styles of cells, as the workbook numbers them.
const (
	styleUsual = iota
	styleHead
	styleDay
	styleWrap
)

// cell is one value of a sheet: nil, string, float64 or int.
type cell struct {
	value any
	day   bool // a text YYYY-MM-DD that is to be a date
}

// mostText is how long a text in a cell may be, in letters.
const mostText = 32767

// widest is the width in letters beyond which a column only pushes the others out of sight.
const widest = 60

// write writes the sheet row by row, its first row frozen.
func (s sheet) write(ctx context.Context, w io.Writer) error {
	o := &sheetOut{w: bufio.NewWriterSize(w, 1<<16), names: make([]string, len(s.header))}
	for i := range o.names {
		o.names[i] = columnName(i)
	}
	o.raw(xmlHead + `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetViews><sheetView workbookViewId="0">` +
		`<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><cols>`)
	for i, width := range s.widths {
		limit := widest
		if s.wrap {
			limit = max(width, widest)
		}
		fmt.Fprintf(o.w, `<col min="%d" max="%d" width="%d" customWidth="1"/>`, i+1, i+1, min(width, limit)+2)
	}
	o.raw("</cols><sheetData>\n")
	head := make([]cell, len(s.header))
	for i, name := range s.header {
		head[i].value = orNone(name)
	}
	o.row(head, styleHead)
	style := styleUsual
	if s.wrap {
		style = styleWrap
	}
	for cells := range s.rows {
		if o.n%256 == 0 && ctx.Err() != nil {
			return context.Cause(ctx)
		}
		o.row(cells, style)
	}
	o.raw("</sheetData></worksheet>\n")
	return o.w.Flush()
}

// sheetOut writes rows; errors of writing come with Flush.
type sheetOut struct {
	w     *bufio.Writer
	names []string
	n     int
}

// raw writes XML as it is; the bufio.Writer keeps the first error.
func (o *sheetOut) raw(s string) { o.w.WriteString(s) }

// row writes one row. A missing value is no cell at all: a spreadsheet would show a zero or count an empty text.
func (o *sheetOut) row(cells []cell, style int) {
	o.n++
	number := strconv.Itoa(o.n)
	o.raw(`<row r="` + number + `">`)
	for i, c := range cells {
		if c.value == nil {
			continue
		}
		at := `<c r="` + o.names[i] + number + `"`
		use := style
		if serial, ok := c.serial(); ok {
			c.value, use = serial, styleDay
		}
		if use != styleUsual {
			at += ` s="` + strconv.Itoa(use) + `"`
		}
		switch v := c.value.(type) {
		case string:
			// Text stands in its cell (inlineStr) and not in a table shared by all, so a sheet can be written from top to bottom without
			// holding its texts.
			o.raw(at + ` t="inlineStr"><is><t xml:space="preserve">`)
			_ = xml.EscapeText(o.w, []byte(cellText(v))) // errors of a bufio.Writer stay, and come out at Flush
			o.raw("</t></is></c>")
		case float64:
			o.raw(at + "><v>" + strconv.FormatFloat(v, 'f', -1, 64) + "</v></c>")
		case int:
			o.raw(at + "><v>" + strconv.Itoa(v) + "</v></c>")
		}
	}
	o.raw("</row>\n")
}

// serial returns a day as the format counts them, from 1899-12-30; ok is false for what is no day.
// The count begins two days before 1900 because the format takes 1900 for a leap year, which it was not; from March 1900 on the days are
// right, and earlier ones stay text.
func (c cell) serial() (days int, ok bool) {
	s, is := c.value.(string)
	if !is || !c.day {
		return 0, false
	}
	t, err := time.Parse(time.DateOnly, s)
	if err != nil || t.Year() < 1901 {
		return 0, false
	}
	return int(t.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24), true
}

// escapeLike is text that a reader would take for an escaped letter, such as _x0041_.
var escapeLike = regexp.MustCompile(`_(x[0-9A-Fa-f]{4}_)`)

// cellText cuts a text that is too long and keeps one that looks like an escape from being read as one.
func cellText(s string) string {
	if r := []rune(s); len(r) > mostText {
		s = string(r[:mostText])
	}
	if strings.Contains(s, "_x") {
		s = escapeLike.ReplaceAllString(s, "_x005F_$1")
	}
	return s
}

// columnName is A … Z, AA …
// i counts from 0.
func columnName(i int) string {
	name := ""
	// Letters count from 1 and there is no zero: AA follows Z. So one is taken off before each division.
	for i++; i > 0; i = (i - 1) / 26 {
		name = string(rune('A'+(i-1)%26)) + name
	}
	return name
}
