package flatgeobuf

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
)

// Bounds on one header and one feature: far more than any survey has.
const (
	maxHeader  = 16 << 20
	maxFeature = 256 << 20
)

// Layer is a file opened for reading, up to its first feature.
// A pass reads from where Open has stopped; the file is read once from its beginning to its end and may be a stream.
type Layer struct {
	Name    string   // of the layer, as the file says; may be empty
	Title   string   // for people; may be empty
	Columns []Column // of all features; may be none
	Count   uint64   // features the file claims to have; 0 when it does not say

	file   string
	r      *bufio.Reader
	faults *diag.List
	at     int64 // bytes read
	kind   geometryKind
	org    string // of the reference system
	code   string
	wkt    string
}

// Column is one attribute.
type Column struct {
	Name string
	kind columnType
}

// Open reads the header. Name is what the user called the file. The error says why it is none that can be read.
func Open(name string, r io.Reader, faults *diag.List) (*Layer, error) {
	l := &Layer{file: name, r: bufio.NewReaderSize(r, 1<<16), faults: faults}
	if err := l.open(); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return l, nil
}

// open reads up to the first feature.
func (l *Layer) open() error {
	// "fgb", major version, "fgb", patch level.
	magic := make([]byte, 8)
	n, err := io.ReadFull(l.r, magic)
	l.at += int64(n)
	switch {
	case n == 0 && errors.Is(err, io.EOF):
		return errors.New("is empty")
	case err != nil && !errors.Is(err, io.ErrUnexpectedEOF):
		return err
	// The fourth byte is the major version; the eighth, a patch level, may be anything.
	case n < 8 || string(magic[:3]) != "fgb" || string(magic[4:7]) != "fgb":
		return errors.New("is no FlatGeobuf")
	case magic[3] != 3:
		return fmt.Errorf("is FlatGeobuf of version %d, where 3 is read; convert it", magic[3])
	}
	b, err := l.block(maxHeader)
	switch {
	case errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("is cut off within its header; copy it again")
	case err != nil:
		return fmt.Errorf("header: %w", err)
	}
	head, ok := rootTable(b)
	if !ok {
		return errors.New("its header is damaged; copy it again")
	}
	if err := l.header(head); err != nil {
		return err
	}
	return l.passIndex(head.uint16(headerNodeSize, nodeSize))
}

// header takes what is used of the header. Texts may be anything and are cleaned.
func (l *Layer) header(head table) error {
	l.Name, l.Title = clean(head.text(headerName)), clean(head.text(headerTitle))
	l.kind, l.Count = geometryKind(head.byte(headerKind, 0)), head.uint64(headerCount)
	if system, ok := head.table(headerSystem); ok {
		l.org, l.code, l.wkt = system.text(systemOrg), system.text(systemWord), system.text(systemText)
		// A code in numbers comes before one in letters.
		if code := system.uint32(systemCode); code != 0 {
			l.code = strconv.FormatUint(uint64(code), 10)
		}
	}
	var err error
	l.Columns, err = columns(head, headerColumns)
	return err
}

// columns reads a list of columns.
func columns(t table, field int) ([]Column, error) {
	var out []Column
	names := 0
	ok := t.tables(field, func(c table) bool {
		name := c.text(columnName)
		names += len(name)
		out = append(out, Column{clean(name), columnType(c.byte(columnKind, 0))})
		return names <= len(t.b) && len(out) <= 1<<16 // names that share their letters would fill the memory
	})
	if !ok {
		return nil, errors.New("its list of columns is damaged; copy it again")
	}
	return out, nil
}

// block reads a length and as many bytes. Memory grows with what was read, whatever the length says.
func (l *Layer) block(most uint32) ([]byte, error) {
	var length [4]byte
	// A clean end here is io.EOF, an end within the length io.ErrUnexpectedEOF: by that Features tells the end of a file
	// from a cut.
	n, err := io.ReadFull(l.r, length[:])
	l.at += int64(n)
	if err != nil {
		return nil, err
	}
	size := binary.LittleEndian.Uint32(length[:])
	if size > most {
		return nil, fmt.Errorf("a length of %d bytes is more than the %d any has", size, most)
	}
	var b bytes.Buffer
	got, err := io.CopyN(&b, l.r, int64(size))
	l.at += got
	if errors.Is(err, io.EOF) {
		err = io.ErrUnexpectedEOF
	}
	return b.Bytes(), err
}

// passIndex goes past the index.
func (l *Layer) passIndex(node uint16) error {
	// A node size of 0 says that there is no index; without a count there can be none.
	if node == 0 || l.Count == 0 {
		return nil
	}
	const most = 1 << 40 // features: more bytes than any disk
	// Before the number of nodes is reckoned, which could not be held.
	if l.Count > most {
		return fmt.Errorf("it claims to have %d features; it is damaged", l.Count)
	}
	// A tree of nodes with one child would never come to a root, hence two at least.
	size := int64(nodesOf(int(l.Count), max(int(node), 2))) * nodeBytes
	got, err := io.CopyN(io.Discard, l.r, size)
	l.at += got
	if errors.Is(err, io.EOF) {
		return fmt.Errorf("is cut off within its index, after %d bytes; copy it again", l.at)
	}
	return err
}

// CRS returns the reference system. ok is false when the file does not say which; the error names one that is not known
// here, but not the file. Coordinates are x, y (longitude, latitude) whatever the order of the system's own axes.
func (l *Layer) CRS() (crs proj.CRS, ok bool, err error) {
	if l.code == "" && l.wkt == "" {
		return proj.CRS{}, false, nil
	}
	org := l.org
	if org == "" {
		org = "EPSG" // the default of the schema
	}
	// By the code first and by the text only where the code is not known here: texts differ by program.
	if l.code != "" {
		if crs, err = proj.FromName(strings.ToUpper(org) + ":" + l.code); err == nil {
			return crs, true, nil
		}
	}
	if l.wkt != "" {
		crs, err = proj.Parse(l.wkt)
	}
	if err != nil {
		return proj.CRS{}, false, err
	}
	return crs, true, nil
}
