package stand

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"

	"rootworthy/internal/csvlist"
	"rootworthy/internal/diag"
)

// Find returns the entry of a line as it was typed, what [Read] refuses too, and the bytes of the line with its end. Lines are counted
// from 1, the first of the file; a note of several lines is found at the first of them. ok is false where no entry begins at that line,
// or its quotation marks cannot be understood.
func Find(text []byte, line int) (e Entry, raw []byte, ok bool) {
	d := reader{faults: &diag.List{}}
	_, at, ok := d.find(text, line)
	if !ok {
		return e, nil, false
	}
	// as Read takes the cells, blanks and all, so that an entry that is not changed compares equal
	cell := func(column string) string { return oneLine(at.Cell(column)) }
	e = Entry{Field: cell("field_id"), Zone: cell("zone_id"), Day: cell("date"), Kind: strings.ToLower(cell("kind")), // as Read takes them
		Value: cell("value"), Unit: strings.ToLower(cell("unit")), Note: cell("note")}
	return e, text[at.begin:at.end], true
}

// Correct returns the text of a record with an entry in the place of what a line holds. All other lines stay byte for byte, and so do the
// line's own end and its cells in columns that the record does not know. The entry is judged by the rules of [Append]; with a fault it
// is refused: ok is false, and faults name the line and the column.
func Correct(name string, text []byte, line int, e Entry, faults *diag.List) (out []byte, r Record, ok bool) {
	d := reader{name: name, faults: &diag.List{}} // what is wrong with the header is told by Read
	list, at, ok := d.find(text, line)
	d.faults = faults
	if !ok {
		d.noEntry(line)
		return nil, r, false
	}
	before := faults.Faults()
	cells := d.cells(list, line, e)
	for i, c := range at.Cells { // Read takes a short row for one with empty cells
		// cells beyond the header belong to nobody, and are kept for that
		if i >= len(cells) {
			cells = append(cells, c)
			// columns that the record does not know, and the second of two of one name, of which the first is read
		} else if !slices.Contains(form().Columns, list.Header[i]) || slices.Index(list.Header, list.Header[i]) < i {
			cells[i] = c
		}
	}
	d.row(list.Row(line, cells))
	if len(d.out) == 1 {
		d.needsFigure(d.out[0], e)
	}
	if faults.Faults() > before || len(d.out) != 1 {
		return nil, r, false
	}
	out = slices.Concat(text[:at.begin], lineOf(cells, list.Separator, endOf(text[at.begin:at.end])), text[at.end:])
	if !d.onlyThat(text, out, line, d.out) {
		return nil, r, false
	}
	return out, d.out[0], true
}

// Remove returns the text of a record without one line; all others stay byte for byte. ok is false, with a fault, where no entry begins
// at that line.
func Remove(name string, text []byte, line int, faults *diag.List) (out []byte, ok bool) {
	d := reader{name: name, faults: &diag.List{}}
	// found by the rules of Read, so that a line within a note of several lines is no entry
	_, at, ok := d.find(text, line)
	d.faults = faults
	if !ok {
		d.noEntry(line)
		return nil, false
	}
	out = slices.Concat(text[:at.begin], text[at.end:])
	if !d.onlyThat(text, out, line, nil) {
		return nil, false
	}
	return out, true
}

// Line is an entry's place in the file, whether [Read] understands it or not.
type Line struct {
	Number int    // as Find counts
	Field  string // whose entry it is
	Raw    []byte // the line with its end
}

// Lines lists the entries of a record in the order of the file: what a line was can be found again after others were put before it. A
// file without a header has none.
func Lines(text []byte) []Line {
	d := reader{faults: &diag.List{}}
	list, err := csvlist.Open("", bytes.NewReader(text), form())
	if err != nil || !d.header(list) {
		return nil
	}
	var out []Line
	// counted on from the row before, so that a long file is gone through once
	begin, number := 0, 1
	for row := range list.Rows(&diag.List{}) {
		begin, number = begin+offsetOf(text[begin:], 1+row.Line-number), row.Line
		out = append(out, Line{row.Line, oneLine(row.Cell("field_id")), text[begin : begin+lengthOf(text[begin:], list.Separator)]})
	}
	return out
}

// noEntry tells that there is nothing to correct: no entry begins at the line.
func (d *reader) noEntry(line int) {
	d.fault(line, "", "no such line", "look at what stands there now", "no entry begins at this line")
}

// place is a row of a record and where its bytes stand.
type place struct {
	csvlist.Row
	begin, end int // in the text, the end of the line included
}

// find goes to the entry that begins at a line.
func (d *reader) find(text []byte, line int) (list *csvlist.List, at place, ok bool) {
	list, err := csvlist.Open(d.name, bytes.NewReader(text), form())
	if err != nil || !d.header(list) {
		return nil, at, false
	}
	for row := range list.Rows(&diag.List{}) {
		if row.Line < line {
			continue
		}
		if row.Line > line {
			break
		}
		at = place{Row: row, begin: offsetOf(text, line)}
		at.Cells = slices.Clone(row.Cells) // they are good until the next row only
		at.end = at.begin + lengthOf(text[at.begin:], list.Separator)
		return list, at, true
	}
	return nil, at, false
}

// offsetOf is where a line begins. Behind the row before it empty lines may stand, so lines are counted, not rows.
func offsetOf(text []byte, line int) int {
	at := 0
	// the line exists, so each of the ends before it does
	for ; line > 1; line-- {
		at += 1 + bytes.IndexByte(text[at:], '\n')
	}
	return at
}

// lengthOf is how many bytes the first row of a text takes, its end included; a quoted cell may go over several lines.
func lengthOf(text []byte, separator rune) int {
	in := csv.NewReader(bytes.NewReader(text))
	in.Comma, in.FieldsPerRecord, in.TrimLeadingSpace = separator, -1, separator != '\t' // as csvlist cuts rows
	in.Read()                                                                            // it was read before, so it can be
	return int(in.InputOffset())
}

// endOf is how a line ends: with nothing where it is the last and the file ends with it.
func endOf(line []byte) string {
	for _, end := range []string{"\r\n", "\n"} {
		if bytes.HasSuffix(line, []byte(end)) {
			return end
		}
	}
	return ""
}

// lineOf writes cells as a line.
func lineOf(cells []string, separator rune, end string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma, w.UseCRLF = separator, end == "\r\n" // also within a cell of several lines, whose ends the reader made plain
	w.Write(cells)                                // into memory: it does not fail
	w.Flush()
	return append(bytes.TrimRight(b.Bytes(), "\r\n"), end...)
}

// onlyThat says whether the new text is read as the old one is, but for the entry of one line, in whose place stands what is given. It
// looks at the outcome instead of trusting the way to it: of what somebody wrote down over years nothing may be lost.
func (d *reader) onlyThat(text, out []byte, line int, instead []Record) bool {
	var silent diag.List
	old, err1 := Read(d.name, bytes.NewReader(text), &silent)
	now, err2 := Read(d.name, bytes.NewReader(out), &silent)
	if err1 != nil || err2 != nil || len(now) >= mostRecords {
		d.full(line)
		return false
	}
	// a note of several lines may become one of one, or the line go altogether
	moved := bytes.Count(out, []byte("\n")) - bytes.Count(text, []byte("\n"))
	var want []Record
	for _, r := range old {
		if r.Line < line {
			want = append(want, r)
		}
	}
	want = append(want, instead...)
	for _, r := range old {
		if r.Line > line {
			r.Line += moved
			want = append(want, r)
		}
	}
	if !slices.Equal(want, now) {
		d.fault(line, "", "not CSV", "mend the quotation marks in a text editor", "the lines around it cannot be told apart")
		return false
	}
	return true
}
