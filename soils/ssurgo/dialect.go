package ssurgo

import (
	"bufio"
	"io"
	"strings"

	"rootworthy/internal/diag"
)

// noticeCopy finds out whether the area is a third party's copy, by a header row in mapunit.txt. Such copies, made
// through spreadsheets and statistics programs, escape quotes with a backslash; the agency doubles them, and a backslash
// at the end of one of its texts must not be taken for an escape.
func (a *area) noticeCopy() error {
	f, err := a.fsys.Open(a.files["mapunit"])
	if err != nil {
		return err
	}
	defer f.Close()
	if err := refuseBomb(a.path("mapunit"), f); err != nil {
		return err
	}
	// 16 kB are far more than the names of any table; a first line longer than that is no header
	line, err := bufio.NewReader(io.LimitReader(f, 1<<14)).ReadString('\n')
	if err != nil && err != io.EOF {
		return err
	}
	fields := strings.Split(strings.TrimSpace(strings.TrimPrefix(line, "\ufeff")), "|")
	// cut by hand: whether quotes are doubled or escaped is what is still to be found out
	for i := range fields {
		fields[i] = strings.Trim(fields[i], `"`)
	}
	a.copied = isHeader(fields, builtin()["mapunit"].names())
	return nil
}

// tellHeader tells once that tables begin with a row of column names.
func (a *area) tellHeader() {
	if a.headerTold {
		return
	}
	a.headerTold = true
	a.faults.Notice(diag.Fault{File: join(a.export, a.tabular), Kind: "header row",
		What: "tables begin with a row of column names, which the agency does not ship: a third party's copy", Fix: "the rows are left out"})
}

// unescaped turns \" into "" on its way to a reader that knows only the latter.
type unescaped struct {
	r         io.Reader
	backslash bool // the last byte handed on was one and may have to be taken back
}

// Read never returns a backslash as the last byte it knows of: it holds it until the next byte has come.
func (u *unescaped) Read(p []byte) (int, error) {
	if len(p) < 2 {
		return 0, io.ErrShortBuffer
	}
	// One byte is left free in front: a backslash held back from the last call may have to go out before what came now. what is written
	// never overtakes what was read: a byte in gives at most a byte out, but for the one held back
	n, err := u.r.Read(p[1:])
	w := 0
	for _, b := range p[1 : 1+n] {
		switch {
		// an escaped quote: doubled, as the record reader expects it
		case u.backslash && b == '"':
			p[w], u.backslash = '"', false
			w++
		// an ordinary backslash after all
		case u.backslash:
			p[w], u.backslash = '\\', false
			w++
		}
		if b == '\\' {
			u.backslash = true
			continue
		}
		p[w] = b
		w++
	}
	// A backslash may be the last byte of the file.
	if err != nil && u.backslash && w < len(p) {
		p[w], u.backslash = '\\', false
		w++
	}
	return w, err
}
