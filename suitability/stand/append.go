package stand

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"

	"rootworthy/internal/csvlist"
	"rootworthy/internal/diag"
)

// Entry is a line of the record as somebody types it.
type Entry struct {
	Field, Zone string // zone "" for the whole field
	Day         string // year, month and day: 2027-03-18
	Kind        string
	Value, Unit string // both "" for an entry without a figure
	Note        string
}

// Append returns the text of a record with one more line at its end. Everything before stays byte for byte as it was, what [Read] cannot
// understand too; the new line has the columns of the file in their order, and an empty text gets the header first. The entry is judged
// by the rules of [Read], and where a figure is all that it tells, it must have one. With a fault it is refused: ok is false, and faults
// name the line that it would have been, and the column.
func Append(name string, text []byte, e Entry, faults *diag.List) (out []byte, r Record, ok bool) {
	if len(bytes.TrimSpace(bytes.TrimPrefix(text, []byte("\ufeff")))) == 0 {
		text = []byte(header + "\n")
	}
	d := reader{name: name, faults: &diag.List{}}
	list, err := csvlist.Open(name, bytes.NewReader(text), form())
	if err != nil { // it comes out of memory: the only error is its size
		d.faults = faults
		d.full(0)
		return nil, r, false
	}
	// asked in silence first: its notices would be told each time a line is added
	usable := d.header(list) // its notices are those of Read
	d.faults = faults
	if !usable {
		d.header(list)
		return nil, r, false
	}
	out, end := lineEnds(text)
	// the last line is ended by now, so the new one is one more than there are ends
	line := 1 + bytes.Count(out, []byte("\n"))
	before := faults.Faults()
	cells := d.cells(list, line, e)
	// through the reader itself, so that what is written is what can be read
	d.row(list.Row(line, cells))
	if len(d.out) == 1 {
		d.needsFigure(d.out[0], e)
	}
	if faults.Faults() > before || len(d.out) != 1 {
		return nil, r, false
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma, w.UseCRLF = list.Separator, end == "\r\n"
	w.Write(cells) // into memory: it does not fail
	w.Flush()
	out = append(out, b.Bytes()...)
	if !d.readsBack(text, out, line) {
		return nil, r, false
	}
	return out, d.out[0], true
}

// lineEnds copies a text, ends its last line, and says how its lines end.
func lineEnds(text []byte) (out []byte, end string) {
	end = "\n"
	// by the first line; a file of mixed ends has been through several hands
	if at := bytes.IndexByte(text, '\n'); at > 0 && text[at-1] == '\r' {
		end = "\r\n"
	}
	out = append(make([]byte, 0, len(text)+256), text...)
	if !bytes.HasSuffix(out, []byte("\n")) {
		out = append(out, end...)
	}
	return out, end
}

// cells puts an entry into the columns of the file. What has no column there is told.
func (d *reader) cells(list *csvlist.List, line int, e Entry) []string {
	if strings.TrimSpace(e.Value) == "" {
		// a unit alone, as a form may leave it, is no figure
		e.Value, e.Unit = "", ""
	}
	cells := make([]string, len(list.Header))
	names := strings.Split(header, ",")
	for i, v := range []string{e.Field, e.Zone, e.Day, strings.ToLower(e.Kind), e.Value, e.Unit, e.Note} {
		// a line end in a note would make two lines of it for whoever reads the file by eye
		v = oneLine(v)
		switch {
		case list.Has(names[i]):
			cells[slices.Index(list.Header, names[i])] = v
		case v != "":
			d.fault(line, names[i], "missing column", "add "+names[i]+" to the first line of the file", "the record has no column %q", names[i])
		}
	}
	return cells
}

// needsFigure refuses a count or a test that was left without its figure. Of what was spread or sampled the day alone is worth keeping.
func (d *reader) needsFigure(r Record, e Entry) {
	_, has := r.Value.Get()
	if has || len(r.Kind.Units()) == 0 || strings.TrimSpace(e.Value) != "" {
		return
	}
	// what was spread or sampled: that it was done on that day is worth a line without how much
	switch r.Kind {
	case SoilPH, Lime, "k2o", "p2o5", "b", "s", "mg", "n", "mo":
		return
	}
	d.fault(r.Line, "value", "no figure", "write the number, with its unit", "%q says nothing without its number", string(r.Kind))
}

// full tells that a record takes no more lines.
func (d *reader) full(line int) {
	d.fault(line, "", "too large", form().Instead, "the record is full")
}

// readsBack says whether the new text holds one record more than the old one, and that on the line where it was put: a quotation mark
// that nobody closed would swallow it.
func (d *reader) readsBack(text, out []byte, line int) bool {
	// what is wrong with other lines was told when they were read
	var silent diag.List
	old, err1 := Read(d.name, bytes.NewReader(text), &silent)
	now, err2 := Read(d.name, bytes.NewReader(out), &silent)
	switch {
	case err1 != nil || err2 != nil || len(now) >= mostRecords:
		d.full(line)
	case len(now) != len(old)+1 || now[len(now)-1].Line != line:
		d.fault(line-1, "", "not CSV", "mend the quotation marks", "the file ends within a quotation, so nothing can be put behind it")
	default:
		return true
	}
	return false
}
