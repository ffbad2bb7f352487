package shapefile

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"strings"

	"rootworthy/internal/diag"
)

// Layout of a .dbf.
// Source: dBASE III+ and IV file layout as commonly published; exchange rules (types C N F D L, widths in bytes).
const (
	dbfHead     = 32 // fixed part of the header, and size of each column's descriptor
	dbfNameSize = 11 // column name with its zero byte
	dbfEnd      = 0x0D
	rowDeleted  = '*'
	fileEnd     = 0x1A
)

// Column describes one column of the attribute table.
type Column struct {
	Name     string // up to ten letters
	Type     byte   // C text, N and F number, D date, L yes or no; others are told and read as missing
	Width    int    // bytes
	Decimals int    // digits behind the point, for N and F

	raw    []byte // name before decoding
	offset int    // of the value in a row
}

// readable tells whether values of the column stand in the row as text.
func (c Column) readable() bool { return strings.IndexByte("CNFDL", c.Type) >= 0 }

// dbfHeader is what the table says of itself; rows is a claim.
type dbfHeader struct {
	rows     int
	start    int64 // of the first row
	width    int   // of a row, deletion mark included
	language byte
}

// openTable reads the header of the .dbf and its columns.
func (l *Layer) openTable() error {
	f, err := l.fsys.Open(l.files.dbf)
	if err != nil {
		return cause(err)
	}
	defer f.Close()
	var b [dbfHead]byte
	if n, err := io.ReadFull(f, b[:]); err != nil {
		return shortHeader(n, err)
	}
	if err := dialect(b[0]); err != nil {
		return err
	}
	h := dbfHeader{
		rows:  int(binary.LittleEndian.Uint32(b[4:])),
		start: int64(binary.LittleEndian.Uint16(b[8:])),
		width: int(binary.LittleEndian.Uint16(b[10:])),
		// the language driver; see charset.go
		language: b[29],
	}
	// The end mark of the columns is a byte and the deletion mark of a row another: no table is shorter.
	if h.start < dbfHead+1 || h.width < 1 {
		return fmt.Errorf("is no attribute table: its header claims to be %d bytes long and its rows %d", h.start, h.width)
	}
	descriptors := make([]byte, h.start-dbfHead) // at most 64 KiB
	if n, err := io.ReadFull(f, descriptors); err != nil {
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return fmt.Errorf("is cut off: it ends after %d bytes, inside its header of %d", dbfHead+n, h.start)
		}
		return cause(err)
	}
	l.table, l.Rows = h, h.rows
	if l.Columns, err = parseColumns(descriptors, h.width); err != nil {
		return err
	}
	l.tellUnreadable()
	return nil
}

// dialect refuses tables of another layout by their first byte. Source: from memory, not checked, except 0x03.
func dialect(version byte) error {
	switch {
	case version == 0x04 || version == 0x8C:
		return errors.New("is a level 7 table, which shapefiles do not use; save it as dBASE III or IV")
	case version&0x07 == 0x03, version == 0x30, version == 0x31, version == 0x32, version == 0x02, version == 0xF5, version == 0xFB:
		return nil
	}
	return fmt.Errorf("is no attribute table: it begins with byte 0x%02X, not 0x03", version)
}

// parseColumns reads the column descriptors up to their end mark. Rows are width bytes long.
func parseColumns(b []byte, width int) ([]Column, error) {
	var cols []Column
	for ; len(b) >= dbfHead && b[0] != dbfEnd && b[0] != 0; b = b[dbfHead:] {
		// Names are kept as bytes until the encoding is known, which the .cpg says that is read later.
		raw, _, _ := bytes.Cut(b[:dbfNameSize], []byte{0})
		cols = append(cols, Column{raw: bytes.TrimSpace(raw), Type: b[11] &^ 0x20, Width: int(b[16]), Decimals: int(b[17])})
	}
	// A text may use the wide form, or give decimals that mean nothing. The length of the rows tells which: it fits one
	// reading only.
	if total(cols) != width {
		// Some programs keep texts over 255 bytes by using the place of the decimals for the high byte of the width.
		for i := range cols {
			if c := &cols[i]; c.Type == 'C' {
				c.Width, c.Decimals = c.Width+c.Decimals<<8, 0
			}
		}
	}
	if t := total(cols); t != width {
		return nil, fmt.Errorf("contradicts itself: its columns need rows of %d bytes, but its rows are said to have %d", t, width)
	}
	at := 1
	for i := range cols {
		cols[i].offset = at
		at += cols[i].Width
	}
	return cols, nil
}

// total returns the length of a row, deletion mark included.
func total(cols []Column) int {
	n := 1
	for _, c := range cols {
		n += c.Width
	}
	return n
}

// nameColumns decodes the column names, once the encoding is known.
func (l *Layer) nameColumns() {
	for i := range l.Columns {
		l.Columns[i].Name = l.text.decode(l.Columns[i].raw)
	}
}

// tellUnreadable tells of columns whose values are no text in the row, one by one: each may be the one that is needed.
func (l *Layer) tellUnreadable() {
	for _, c := range l.Columns {
		if c.readable() {
			continue
		}
		what := fmt.Sprintf("columns of type %q are not read; its values count as missing", string(rune(c.Type)))
		if c.Type == 'M' {
			what = "memo texts stand in another file and are not read; its values count as missing"
		}
		l.faults.Notice(diag.Fault{File: l.display("dbf"), Field: string(c.raw), Kind: "column type", What: what, Fix: "save the column as text if it is needed"})
	}
}
