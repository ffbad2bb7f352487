package shapefile

import (
	"bufio"
	"encoding/binary"
	"io"
	"io/fs"
)

// shxReader reads the index beside the .shp in step with its records. The index is only a second opinion: records
// follow each other in nearly all files, and the index is asked where one does not begin as a record must.
type shxReader struct {
	f  fs.File
	in *bufio.Reader
}

// openIndex returns nil when there is no index that can be read; nil is a valid, empty index.
func (l *Layer) openIndex() *shxReader {
	if l.files.shx == "" {
		return nil
	}
	f, err := l.fsys.Open(l.files.shx)
	if err != nil {
		return nil
	}
	x := &shxReader{f, bufio.NewReader(f)}
	var b [headerSize]byte
	// A damaged index is not worth a word: reading goes on without it as it does where there is none.
	if _, err := io.ReadFull(x.in, b[:]); err != nil || binary.BigEndian.Uint32(b[:]) != fileCode {
		f.Close()
		return nil
	}
	return x
}

// next returns the byte offset of the next record's header; ok is false when the index does not know.
func (x *shxReader) next() (offset int64, ok bool) {
	if x == nil {
		return 0, false
	}
	// an entry is the record's offset and its length, both in 16-bit words; the length stands in the record as well
	b, err := x.in.Peek(8)
	if err != nil {
		return 0, false
	}
	offset = int64(binary.BigEndian.Uint32(b)) * 2
	x.in.Discard(8) // cannot fail: these bytes were peeked
	return offset, true
}

func (x *shxReader) close() {
	if x != nil {
		x.f.Close()
	}
}
