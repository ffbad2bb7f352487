package shapefile

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// Layout of .shp and .shx.
// Source: Esri Shapefile Technical Description, July 1998, tables 1, 2 and pages 4, 8, 13, 20.
const (
	fileCode    = 9994
	fileVersion = 1000
	headerSize  = 100
	recordHead  = 8 // record number and length in 16-bit words, both big-endian
)

// Shape types that hold polygons: plain, with heights, with measures. Other types are refused.
const (
	shapeNull     = 0
	shapePolygon  = 5
	shapePolygonZ = 15
	shapePolygonM = 25
)

// shapeNames is what else a shapefile may hold, for a message.
var shapeNames = map[int32]string{
	1: "points", 3: "lines", 8: "multipoints", 11: "points with heights", 13: "lines with heights",
	18: "multipoints with heights", 21: "measured points", 23: "measured lines", 28: "measured multipoints", 31: "3-D patches",
}

// readAhead is the buffer between the file and the records, in bytes.
const readAhead = 1 << 18

// ErrNotPolygons says that a shapefile is sound but holds lines or points, such as lie beside the polygons in many folders.
var ErrNotPolygons = errors.New("not polygons")

// shpHeader is what the .shp says of itself.
type shpHeader struct {
	length int64 // of the file in bytes, as claimed
	kind   int32
}

// openShapes reads the header of the .shp.
func (l *Layer) openShapes() error {
	f, err := l.fsys.Open(l.files.shp)
	if err != nil {
		return cause(err)
	}
	defer f.Close()
	var b [headerSize]byte
	if n, err := io.ReadFull(f, b[:]); err != nil {
		return shortHeader(n, err)
	}
	if code := int32(binary.BigEndian.Uint32(b[:])); code != fileCode {
		return fmt.Errorf("is not a shapefile: it begins with %d where %d must stand", code, fileCode)
	}
	// lengths and offsets count 16-bit words, and are big-endian where coordinates are little-endian
	l.header.length = int64(binary.BigEndian.Uint32(b[24:])) * 2
	l.header.kind = int32(binary.LittleEndian.Uint32(b[32:]))
	switch l.header.kind {
	case shapeNull, shapePolygon, shapePolygonZ, shapePolygonM:
	default:
		what, known := shapeNames[l.header.kind]
		if !known {
			what = fmt.Sprintf("shapes of unknown type %d", l.header.kind)
		}
		return fmt.Errorf("holds %s, %w; name the polygon layer", what, ErrNotPolygons)
	}
	// x and y minima, then maxima; the ranges of heights and measures follow and are not read
	l.Bounds = orb.Bound{Min: orb.Point{float(b[36:]), float(b[44:])}, Max: orb.Point{float(b[52:]), float(b[60:])}}
	return nil
}

// shortHeader says why a header could not be read: an empty file, a cut one, or the disk.
func shortHeader(n int, err error) error {
	switch {
	case n == 0 && errors.Is(err, io.EOF):
		return errors.New("is empty")
	case errors.Is(err, io.ErrUnexpectedEOF):
		return fmt.Errorf("is cut off: it ends after %d bytes, inside its header", n)
	}
	return cause(err)
}

func float(b []byte) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b)) }

// shpReader walks the records of a .shp.
type shpReader struct {
	layer *Layer
	in    *bufio.Reader
	pos   int64 // bytes read so far
	index *shxReader
	buf   []byte // content of the record at hand, used again for the next
	n     int    // records begun
	cut   bool   // records were lost at the end, and that was told
}

func newShpReader(l *Layer, r io.Reader) *shpReader {
	return &shpReader{layer: l, in: bufio.NewReaderSize(r, readAhead), index: l.openIndex()}
}

// next reads the next record's rings into rec, or why they cannot be read. io.EOF ends the file; other errors are of
// the file system. Faults are told here.
func (s *shpReader) next(rec *Record) error {
	// A record whose length is right but whose content is not costs that record alone: the next one begins where it
	// should.
	content, err := s.nextContent()
	if err != nil {
		return err
	}
	rec.Rings.reset()
	rec.Damaged = ""
	if err := rec.Rings.parse(content); err != nil {
		// byte offset of the content, for whoever looks into the file
		at := s.pos - int64(len(content))
		rec.Damaged = err.Error()
		rec.Rings.reset()
		s.layer.shapeFault(at, s.n, "damaged record", rec.Damaged+"; it has no shape")
	}
	return nil
}

// nextContent returns the bytes of the next record.
func (s *shpReader) nextContent() ([]byte, error) {
	// Lengths come from the record's head, not from the index: in files written by hand or mended, the index is what was
	// forgotten.
	head, err := s.nextHead()
	if err != nil {
		return nil, err
	}
	s.n++
	size := int64(head.words) * 2
	at := s.pos
	got, err := s.read(size)
	if err == nil {
		return got, nil
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		s.lost(at, s.n, fmt.Sprintf("the file ends inside this record, %d of %d bytes of it are there; it and all after it are lost", len(got), size))
		return nil, io.EOF
	}
	return nil, s.fail(err)
}

// recordHeader stands before each record: its number and the length of its content in 16-bit words.
type recordHeader struct{ number, words uint32 }

// plausible tells whether h can be the header of record n (from 0). Some writers number from 0.
func (h recordHeader) plausible(n int) bool {
	return h.words >= 2 && h.words < 1<<30 && (h.number == uint32(n+1) || h.number == uint32(n))
}

// nextHead finds and reads the header of the next record, with the help of the index where the file has a gap.
func (s *shpReader) nextHead() (recordHeader, error) {
	// Asked for every record, so that index and records stay in step.
	want, indexed := s.index.next()
	b, err := s.in.Peek(recordHead)
	if len(b) < recordHead {
		return recordHeader{}, s.end(len(b), err)
	}
	h := parseHead(b)
	// Only forward: an index that points back would have the same records read for ever.
	if !h.plausible(s.n) && indexed && want > s.pos {
		if err := s.skip(want - s.pos); err != nil {
			s.lost(s.pos, s.n, fmt.Sprintf("the index places record %d behind the end of the file; it and all after it are lost", s.n+1))
			return h, io.EOF
		}
		// What the index leads to is believed as it is; without a length it is damage after all.
		if b, err = s.in.Peek(recordHead); len(b) < recordHead {
			return h, s.end(len(b), err)
		}
		h = parseHead(b)
	}
	if h.words < 2 || h.words >= 1<<30 {
		// A header without a length promises nothing, so what cannot be a record is then told.
		if s.pos >= s.layer.header.length && s.layer.header.length > headerSize {
			return h, io.EOF // bytes after the end the header gives are no record
		}
		s.lost(s.pos, s.n+1, fmt.Sprintf("the record claims %d bytes; it and all after it are lost", int64(h.words)*2))
		return h, io.EOF
	}
	s.in.Discard(recordHead) // cannot fail: these bytes were peeked
	s.pos += recordHead
	return h, nil
}

func parseHead(b []byte) recordHeader {
	return recordHeader{binary.BigEndian.Uint32(b), binary.BigEndian.Uint32(b[4:])}
}

// end explains why there is no further record: the good end of the file, or a cut.
func (s *shpReader) end(left int, err error) error {
	if err != nil && !errors.Is(err, io.EOF) {
		return s.fail(err)
	}
	s.pos += int64(left)
	// Fewer than eight bytes are left, too few for another record; short of the promised length they are a cut.
	if s.pos < s.layer.header.length {
		s.lost(s.pos, 0, fmt.Sprintf("the file ends after record %d, but its header promises %d bytes", s.n, s.layer.header.length))
	}
	return io.EOF
}

// fail makes an error of the file system, with the place where it happened.
func (s *shpReader) fail(err error) error {
	return fmt.Errorf("%s at byte %d: %w", s.layer.Name, s.pos, cause(err))
}

func (s *shpReader) skip(n int64) error {
	got, err := io.CopyN(io.Discard, s.in, n)
	s.pos += got
	return err
}

// read returns the next n bytes. Memory grows with what was read, never with n alone.
func (s *shpReader) read(n int64) ([]byte, error) {
	s.buf = s.buf[:0]
	for int64(len(s.buf)) < n {
		// Doubling what is there at most: a record that claims a gigabyte and has a kilobyte costs a buffer of
		// readAhead.
		step := int(min(n-int64(len(s.buf)), max(readAhead, int64(len(s.buf)))))
		if cap(s.buf)-len(s.buf) < step {
			s.buf = append(make([]byte, 0, len(s.buf)+step), s.buf...)
		}
		have := len(s.buf)
		got, err := io.ReadFull(s.in, s.buf[have:have+step])
		s.buf, s.pos = s.buf[:have+got], s.pos+int64(got)
		if err != nil {
			return s.buf, err
		}
	}
	return s.buf, nil
}

// lost tells that the records from here on cannot be read.
func (s *shpReader) lost(at int64, record int, what string) {
	s.cut = true
	s.layer.shapeFault(at, record, "cut off", what)
}

// shapeFault tells a fault of the .shp; record counts from 1, 0 when no record is meant.
func (l *Layer) shapeFault(at int64, record int, kind, what string) {
	f := diag.Fault{File: l.Name, Offset: at, Kind: kind, What: what, Fix: "export or copy the file again"}
	if record > 0 {
		f.Feature = fmt.Sprintf("record %d", record)
	}
	l.faults.Add(f)
}
