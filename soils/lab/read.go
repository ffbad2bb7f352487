package lab

import (
	"bytes"
	"fmt"
	"io"

	"rootworthy/internal/diag"
	"rootworthy/soils/lab/workbook"
)

// MostBytes is the largest file that is read: a laboratory's largest are some megabytes.
const MostBytes = 64 << 20

// mostSamples is how many samples are taken of one file, about a kilobyte each: a whole state's laboratory prints that in
// a season, a farm in a thousand years.
const mostSamples = 100000

// tooMany tells once that a file has more samples than are taken.
func tooMany(file string, line int, faults *diag.List) {
	faults.Add(diag.Fault{File: file, Line: line, Kind: "too many samples", What: fmt.Sprintf("the file has over %d samples; the rest from here on is not read", mostSamples), Fix: "split the file"})
}

// Results is what a file of a laboratory holds.
type Results struct {
	Samples    []Sample // in the order of the file
	Understood Understood
}

// Read reads a laboratory's file: delimited text in any of its dialects, a spreadsheet (.xlsx), or Modus results in XML or
// JSON. What it is, is told by its content. A nil mapping overrides nothing.
//
// Cells that cannot be read become missing values and faults; a buffer pH without its buffer is refused and asked for.
// Results explains the rest column by column. The error says that the work could not be done: r could not be read, is
// too large, or holds no soil tests in a form that is known.
func Read(name string, r io.ReaderAt, size int64, mapping *Mapping, faults *diag.List) (Results, error) {
	// before the first byte is read
	if size > MostBytes {
		return Results{}, fmt.Errorf("%s: the file has %d bytes, more than the %d of a laboratory's largest", name, size, MostBytes)
	}
	// enough for the signature of any kind of file that is told apart here
	start := make([]byte, min(size, 512))
	if n, err := r.ReadAt(start, 0); err != nil && err != io.EOF {
		return Results{}, fmt.Errorf("%s: %w", name, err)
	} else {
		start = start[:n]
	}
	if why := foreign(start); why != "" {
		return Results{}, fmt.Errorf("%s: %s", name, why)
	}
	// to know below whether anything was said about this file
	before := faults.Faults()
	res, err := readKind(name, r, size, bytes.HasPrefix(start, []byte("PK\x03\x04")), mapping, faults)
	if err != nil {
		return Results{}, err
	}
	if len(res.Samples) == 0 && faults.Faults() == before { // else it was told why
		faults.Add(diag.Fault{File: name, Kind: "no samples", What: "it holds no sample with a result", Fix: "check that this is the right file, and that its columns are understood"})
	}
	return res.described(), nil
}

// readKind reads a spreadsheet or, by its first letter, text of one of the kinds.
func readKind(name string, r io.ReaderAt, size int64, zipped bool, mapping *Mapping, faults *diag.List) (Results, error) {
	if zipped {
		return readWorkbook(name, r, size, mapping, faults)
	}
	b, err := io.ReadAll(io.NewSectionReader(r, 0, size))
	if err != nil {
		return Results{}, fmt.Errorf("%s: %w", name, err)
	}
	// decoded before the kind is told: a Modus file may come in UTF-16
	text, encoding := decodeText(b)
	switch body := bytes.TrimLeft(text, " \t\r\n"); {
	case len(body) == 0:
		return Results{}, fmt.Errorf("%s: the file is empty", name)
	case body[0] == '{' || body[0] == '[':
		return readModusJSON(name, body, mapping, faults)
	case body[0] == '<':
		// the bytes as they came: XML says its encoding itself
		return readModusXML(name, b, mapping, faults)
	}
	return readText(name, string(text), encoding, mapping, faults)
}

// foreign knows files that are often sent and cannot be read, and says what to do instead.
func foreign(start []byte) string {
	lower := bytes.ToLower(bytes.TrimLeft(start, "\xef\xbb\xbf \t\r\n"))
	switch {
	case bytes.HasPrefix(start, []byte("\xd0\xcf\x11\xe0")):
		return "this is an old spreadsheet (.xls) or one with a password; save it as .xlsx without a password, or as CSV"
	case bytes.HasPrefix(start, []byte("%PDF")):
		return "this is a PDF report; ask the laboratory for the results as a spreadsheet, CSV or Modus file"
	case bytes.HasPrefix(lower, []byte("<html")), bytes.HasPrefix(lower, []byte("<!doctype html")), bytes.HasPrefix(lower, []byte("<table")):
		return "this is a web page, whatever its name says; open it in a spreadsheet program and save it as .xlsx or CSV"
	}
	return ""
}

// readText reads delimited text once its header is found; where none is, it is no table of soil tests.
func readText(name, text, encoding string, m *Mapping, faults *diag.List) (Results, error) {
	t, h, delimiter, ok := readDelimited(name, text, m, faults)
	if !ok {
		return Results{}, fmt.Errorf("%s: no header of soil test results in the first %d rows; name the columns as in "+
			"sample_id,ph_water,p_m3_ppm, or give a column mapping", name, searchRows)
	}
	res := Results{Understood: Understood{Format: "text with " + delimiter + ", " + encoding}}
	res.addTables(name, t, h, m, faults)
	return res, nil
}

// readWorkbook reads every sheet that has a header of results. Samples of several sheets are one list.
func readWorkbook(name string, r io.ReaderAt, size int64, m *Mapping, faults *diag.List) (Results, error) {
	sheets, err := workbook.Open(name, r, size, faults)
	if err != nil {
		return Results{}, err
	}
	res := Results{Understood: Understood{Format: "spreadsheet"}}
	u := &res.Understood
	for _, s := range sheets {
		t := table{sheet: s.Name}
		for _, row := range s.Rows {
			t.rows = append(t.rows, tableRow{line: row.Number, cells: row.Cells})
		}
		h, _, ok := findHeading(t.rows, m)
		// Hidden sheets hold lists and old versions; taken in, they would count bags twice.
		if s.Hidden || !ok {
			why := "no header of soil test results"
			if s.Hidden {
				why = "hidden"
			}
			u.Notes = append(u.Notes, "sheet "+quoted(s.Name)+" is left out: "+why)
			continue
		}
		// each sheet by its own header: years and fields often lie in one workbook with columns that differ
		res.addTables(name, t, h, m, faults)
	}
	// no sheet was read at all
	if len(u.Columns) == 0 {
		return Results{}, fmt.Errorf("%s: no sheet has a header of soil test results; name the columns as in sample_id,ph_water,p_m3_ppm, or give a column mapping", name)
	}
	return res, nil
}

// addTables reads what stands below a heading, and below those further down.
func (r *Results) addTables(name string, t table, h heading, m *Mapping, faults *diag.List) {
	for _, part := range unstack(t, h, m) {
		tr := readTable(name, part.table, part.head, m, faults)
		r.Samples = append(r.Samples, tr.samples...)
		r.Understood.Notes = append(r.Understood.Notes, tr.notes...)
		r.Understood.Columns = append(r.Understood.Columns, tr.accounts...)
	}
}

// described adds the layers found.
func (r Results) described() Results {
	r.Understood.Layers = nil
	for _, l := range Layers(r.Samples) {
		r.Understood.Layers = append(r.Understood.Layers, l.String())
	}
	return r
}
