package geotiff

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"
)

// Bounds of the structure. Real files have some 30 tags, a dozen levels and a few kB of text.
const (
	maxTags        = 1024
	maxDirectories = 256
	maxValueBytes  = 4 << 20 // of one tag that is read whole
)

// source is the file: its bytes and how numbers lie in them.
type source struct {
	name  string
	r     io.ReaderAt
	size  int64
	order binary.ByteOrder
	big   bool // BigTIFF: 64-bit offsets
}

// fault makes an error about a tag of the file.
func (s *source) fault(tag uint16, at int64, format string, args ...any) error {
	return fmt.Errorf("%s: %s, byte %d: %s", s.name, tagName(tag), at, fmt.Sprintf(format, args...))
}

const (
	damaged  = "the file is cut off or damaged; get it again"
	rewrite  = "write it again as a plain GeoTIFF with deflate or no compression"
	renameIt = "check that it is a GeoTIFF"
)

// bytes reads n bytes at an offset.
func (s *source) bytes(at int64, n int, what string) ([]byte, error) {
	// before anything is reserved: what does not lie in the file is not asked of it
	if at < 0 || at > s.size || int64(n) > s.size-at {
		return nil, fmt.Errorf("%s: byte %d: %s of %d bytes do not lie in the file's %d; %s", s.name, at, what, n, s.size, damaged)
	}
	b := make([]byte, n)
	// a reader may give all and an error with it; all is enough
	if m, err := s.r.ReadAt(b, at); m < n {
		return nil, fmt.Errorf("%s: byte %d: %w", s.name, at, err)
	}
	return b, nil
}

// open reads the header and returns the place of the first directory.
func (s *source) open() (first int64, err error) {
	if s.size < 8 {
		return 0, fmt.Errorf("%s: %d bytes are no TIFF; %s", s.name, s.size, renameIt)
	}
	// a plain TIFF may be shorter than the header of a BigTIFF
	h, err := s.bytes(0, int(min(s.size, 16)), "header")
	if err != nil {
		return 0, err
	}
	switch string(h[:2]) {
	case "II":
		s.order = binary.LittleEndian
	case "MM":
		s.order = binary.BigEndian
	default:
		return 0, fmt.Errorf("%s: byte 0: %q begins no TIFF; %s", s.name, h[:2], renameIt)
	}
	switch v := s.order.Uint16(h[2:]); {
	case v == 42:
		return int64(s.order.Uint32(h[4:])), nil
	// 8: the bytes of an offset; 0: reserved. Other widths are allowed for and were never made.
	case v == 43 && len(h) == 16 && s.order.Uint16(h[4:]) == 8 && s.order.Uint16(h[6:]) == 0:
		s.big = true
		return s.offset(h[8:]), nil
	default:
		return 0, fmt.Errorf("%s: byte 2: version %d is no TIFF's; %s", s.name, v, renameIt)
	}
}

// offset reads an offset of the file's own width; one that no file has becomes -1.
func (s *source) offset(b []byte) int64 {
	if !s.big {
		return int64(s.order.Uint32(b))
	}
	// beyond that no file is, and the sign bit would make it look like one
	if v := s.order.Uint64(b); v <= math.MaxInt64 {
		return int64(v)
	}
	return -1
}

// entry is a tag in a directory: where its values lie.
type entry struct {
	tag, kind uint16
	count     uint64
	at        int64 // of the first value
}

// directory is a list of tags.
type directory struct {
	*source
	at      int64
	entries []entry
}

// directory reads the directory at a place, and where the next one is; 0 for none.
func (s *source) directory(at int64) (d *directory, next int64, err error) {
	countSize, entrySize, wide := 2, 12, 4
	if s.big {
		countSize, entrySize, wide = 8, 20, 8
	}
	head, err := s.bytes(at, countSize, "directory")
	if err != nil {
		return nil, 0, err
	}
	n := uint64(s.order.Uint16(head))
	if s.big {
		n = s.order.Uint64(head)
	}
	// A count out of a damaged file would have a gigabyte read before the first tag is looked at.
	if n == 0 || n > maxTags {
		return nil, 0, fmt.Errorf("%s: byte %d: a directory of %d tags is none; %s", s.name, at, n, damaged)
	}
	at += int64(countSize)
	// All tags and the place of the next directory in one read.
	b, err := s.bytes(at, int(n)*entrySize+wide, "directory")
	if err != nil {
		return nil, 0, err
	}
	// n is bounded by maxTags, and the bytes of all entries have been read.
	d = &directory{source: s, at: at, entries: make([]entry, n)}
	for i := range d.entries {
		e := b[i*entrySize:]
		d.entries[i] = s.entry(e, at+int64(i*entrySize))
	}
	return d, s.offset(b[int(n)*entrySize:]), nil
}

// entry reads one tag; values that fit in the place of their offset lie there.
func (s *source) entry(b []byte, at int64) entry {
	e := entry{tag: s.order.Uint16(b), kind: s.order.Uint16(b[2:])}
	room, head := uint64(4), int64(8)
	if s.big {
		e.count, room, head = s.order.Uint64(b[4:]), 8, 12
	} else {
		e.count = uint64(s.order.Uint32(b[4:]))
	}
	// divided, not multiplied: a hostile count would wrap round
	if size := typeSize(e.kind); size > 0 && e.count <= room/size {
		e.at = at + head
	} else {
		e.at = s.offset(b[head:])
	}
	return e
}

// find returns the first entry of a tag.
func (d *directory) find(tag uint16) (entry, bool) {
	// One by one: there are thirty, and damaged files have them out of order.
	for _, e := range d.entries {
		if e.tag == tag {
			return e, true
		}
	}
	return entry{}, false
}

// raw reads values from … from+n of an entry.
func (d *directory) raw(e entry, from, n uint64) ([]byte, error) {
	size := typeSize(e.kind)
	switch {
	case size == 0:
		return nil, d.fault(e.tag, e.at, "field type %d is unknown; %s", e.kind, rewrite)
	case e.at < 0 || e.at > d.size || e.count > uint64(d.size-e.at)/size:
		return nil, d.fault(e.tag, e.at, "%d values do not lie in the file's %d bytes; %s", e.count, d.size, damaged)
	// asked for more than the tag has, which its owner must hear as damage and not as zeros
	case from > e.count || n > e.count-from:
		return nil, d.fault(e.tag, e.at, "holds %d values where %d are needed; %s", e.count, from+n, damaged)
	case n*size > maxValueBytes:
		return nil, d.fault(e.tag, e.at, "%d values are too many; %s", n, rewrite)
	}
	return d.bytes(e.at+int64(from*size), int(n*size), tagName(e.tag))
}

// whole reads values as unsigned integers.
func (d *directory) whole(e entry, from, n uint64) ([]uint64, error) {
	b, err := d.raw(e, from, n)
	if err != nil {
		return nil, err
	}
	out := make([]uint64, n)
	for i := range out {
		switch e.kind {
		// 7 is "undefined", bytes of any meaning
		case typeByte, 7:
			out[i] = uint64(b[i])
		case typeShort:
			out[i] = uint64(d.order.Uint16(b[2*i:]))
		// 13 and 18 are offsets of directories, in 32 and 64 bits
		case typeLong, 13:
			out[i] = uint64(d.order.Uint32(b[4*i:]))
		case typeLong8, 18:
			out[i] = d.order.Uint64(b[8*i:])
		default:
			return nil, d.fault(e.tag, e.at, "field type %d does not hold whole numbers; %s", e.kind, rewrite)
		}
	}
	return out, nil
}

// all reads every value of a tag as unsigned integers; none when the tag is absent.
func (d *directory) all(tag uint16) ([]uint64, error) {
	e, ok := d.find(tag)
	if !ok {
		return nil, nil
	}
	return d.whole(e, 0, e.count)
}

// number reads the first value of a tag, or the default where it is absent.
func (d *directory) number(tag uint16, absent uint64) (uint64, error) {
	e, ok := d.find(tag)
	if !ok {
		return absent, nil
	}
	v, err := d.whole(e, 0, 1)
	if err != nil {
		return 0, err
	}
	return v[0], nil
}

// doubles reads every value of a tag of doubles.
func (d *directory) doubles(tag uint16) ([]float64, error) {
	e, ok := d.find(tag)
	if !ok {
		return nil, nil
	}
	if e.kind != typeDouble {
		return nil, d.fault(tag, e.at, "field type %d where doubles (12) should stand; %s", e.kind, rewrite)
	}
	b, err := d.raw(e, 0, e.count)
	if err != nil {
		return nil, err
	}
	out := make([]float64, e.count)
	for i := range out {
		out[i] = math.Float64frombits(d.order.Uint64(b[8*i:]))
	}
	return out, nil
}

// text reads a tag of text up to its first zero byte.
func (d *directory) text(tag uint16) (string, error) {
	e, ok := d.find(tag)
	if !ok {
		return "", nil
	}
	b, err := d.raw(e, 0, e.count)
	if err != nil {
		return "", err
	}
	// Texts may hold several, each ended by a zero; the first is the one meant.
	for i, c := range b {
		if c == 0 {
			return string(b[:i]), nil
		}
	}
	return string(b), nil
}
