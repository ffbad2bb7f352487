package ssurgo

import (
	"bufio"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
)

// Bounds on one record. The longest record seen in tables that we read has 47 kB (the notes of sacatlog), the widest
// 171 fields; past these bounds a quote was left open, or the file is hostile.
const (
	maxRecord = 1 << 20
	maxFields = 4096
)

// checkEvery is how many records go by between looks at the context.
const checkEvery = 1 << 12

// read calls each for every record of a table. Faulty records are left out and told. The error is fs.ErrNotExist when
// the export does not have the table, else of the file system or the context.
func (a *area) read(ctx context.Context, l *layout, each func(*record)) error {
	if a.source != nil {
		return a.readSource(ctx, l, each)
	}
	// by the name in small letters: copies have Mapunit.txt and MAPUNIT.TXT
	p, ok := a.files[l.file]
	if !ok {
		return fmt.Errorf("%s: %w", a.path(l.file), fs.ErrNotExist)
	}
	f, err := a.fsys.Open(p)
	if err != nil {
		return fmt.Errorf("%s: %w", join(a.export, p), cause(err))
	}
	defer f.Close()
	if err := refuseBomb(join(a.export, p), f); err != nil {
		return err
	}
	t := &table{area: a, layout: l, name: join(a.export, p), bound: &bounded{r: f, left: maxRecord}}
	return t.records(ctx, each)
}

// table is one file while it is read.
type table struct {
	area    *area
	layout  *layout
	name    string // file as the user would look for it
	bound   *bounded
	rec     record
	columns map[string]int // 0-based, of this file
	count   int            // records seen, header included
	badText bool           // text that is not UTF-8 was told
}

// records reads the table to its end. Damage within a record costs that record, an open quote the rest of the file.
func (t *table) records(ctx context.Context, each func(*record)) error {
	in, err := t.reader()
	if err != nil {
		return fmt.Errorf("%s: %w", t.name, cause(err))
	}
	for {
		if t.count%checkEvery == 0 && ctx.Err() != nil {
			return context.Cause(ctx)
		}
		fields, err := in.Read()
		switch {
		case errors.Is(err, io.EOF):
			return nil
		// the reader was inside a record, so no later place in the file can be trusted to be the start of one
		case errors.Is(err, errTooLong):
			t.area.faults.Add(diag.Fault{File: t.name, Line: t.line(in) + 1, Kind: "record too long",
				What: "a record of more than 1 MB begins here; nothing after it was read", Fix: "look for a quote that is never closed"})
			return nil
		// an error of the file system; damage within a record was told, and the next one is read
		case err != nil && !t.malformed(err):
			return fmt.Errorf("%s: %w", t.name, cause(err))
		case err == nil:
			t.bound.left = maxRecord
			t.take(fields, in, each)
		}
		t.count++
	}
}

// reader returns a reader of records, a byte order mark left behind.
func (t *table) reader() (*csv.Reader, error) {
	start := bufio.NewReader(t.bound)
	if b, err := start.Peek(3); string(b) == "\ufeff" {
		start.Discard(3)
	} else if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	var r io.Reader = start
	if t.area.copied {
		r = &unescaped{r: r}
	}
	in := csv.NewReader(r)
	// any number of fields: take tells of the wrong ones in words of its own
	in.Comma, in.FieldsPerRecord, in.ReuseRecord = '|', -1, true
	return in, nil
}

// line returns the line of the record read last, 0 before the first.
func (t *table) line(in *csv.Reader) int {
	if t.count == 0 {
		return 0
	}
	return t.rec.line
}

// malformed tells of a record that is not quoted as it should be; the reader goes on behind it.
func (t *table) malformed(err error) bool {
	var p *csv.ParseError
	// not of the record's form, so of the file system
	if !errors.As(err, &p) {
		return false
	}
	t.bound.left = maxRecord
	lost := "the line is left out"
	if p.Line > p.StartLine {
		lost = fmt.Sprintf("lines %d to %d are left out", p.StartLine, p.Line)
	}
	t.area.faults.Add(diag.Fault{File: t.name, Line: p.StartLine, Kind: "malformed record",
		What: fmt.Sprintf("quotes do not fit (%v); %s", p.Err, lost), Fix: "take a fresh copy of the export"})
	return true
}

// take hands one record on, unless it is a header, blank or of the wrong width.
func (t *table) take(fields []string, in *csv.Reader, each func(*record)) {
	line, _ := in.FieldPos(0)
	t.rec = record{table: t, fields: fields, line: line}
	// the first record, or the first after records that were damaged
	if t.columns == nil {
		t.begin()
		if t.dropHeader() {
			return
		}
	}
	if len(fields) == 1 && strings.TrimSpace(fields[0]) == "" {
		return // an empty table of a copy holds one empty field
	}
	// neither cut nor filled up: which of its fields are the ones that lack, nobody can say
	if len(fields) != t.layout.width {
		t.area.faults.Add(diag.Fault{File: t.name, Line: line, Kind: "field count",
			What: fmt.Sprintf("%d fields, the table has %d; the record is left out", len(fields), t.layout.width),
			Fix:  "take a fresh copy of the export"})
		return
	}
	each(&t.rec)
}

// begin sets the columns as the layout has them.
func (t *table) begin() {
	t.columns = make(map[string]int, len(t.layout.columns))
	for name, c := range t.layout.columns {
		t.columns[name] = c.at
	}
}

// dropHeader looks whether the first record is a header that a third party added. If it names every column that we
// read and each one once, its order is taken; a header may be wrong (one copy seen numbers and misnames sacatlog),
// and then the positions of the schema hold.
func (t *table) dropHeader() bool {
	f := t.rec.fields
	if !isHeader(f, t.layout.names()) {
		return false
	}
	t.area.tellHeader()
	// a header all the same, and no record: it is dropped, and positions hold
	if len(f) != t.layout.width {
		return true
	}
	at := map[string]int{}
	for i, name := range f {
		at[strings.ToLower(strings.TrimSpace(name))] = i
	}
	// Two columns of one name: which of them is meant, nobody can say.
	if len(at) != len(f) {
		return true
	}
	for name := range t.columns {
		if _, ok := at[name]; !ok {
			return true
		}
	}
	for name := range t.columns {
		t.columns[name] = at[name]
	}
	return true
}

// isHeader says whether a record looks like column names: V1, V2, …, or at least half of the names that we know.
func isHeader(fields, names []string) bool {
	// of: names that could be there. Half of them is enough, because copies rename some, and no record of data names its
	// own columns.
	numbered, known, of := 0, 0, 0
	have := map[string]bool{}
	for i, f := range fields {
		f = strings.ToLower(strings.TrimSpace(f))
		have[f] = true
		if f == "v"+strconv.Itoa(i+1) {
			numbered++
		}
	}
	for _, n := range names {
		if n == "" {
			continue
		}
		of++
		if have[n] {
			known++
		}
	}
	return numbered == len(fields) || (of > 0 && 2*known >= of)
}
