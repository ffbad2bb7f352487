package ssurgo

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"io/fs"
)

// bounded passes on at most left bytes until it is given more: the record reader behind it holds a whole record, so
// this bounds what a quote that never closes can cost.
type bounded struct {
	r    io.Reader
	left int
}

// errTooLong ends the reading of a table: past an open quote nothing can be told apart any more.
var errTooLong = errors.New("record too long")

// Read hands on bytes until the record is too long. The bound is set anew after each record.
func (b *bounded) Read(p []byte) (int, error) {
	if b.left <= 0 {
		return 0, errTooLong
	}
	// never past the bound, so that the reader in front sees the end exactly there
	n, err := b.r.Read(p[:min(len(p), b.left)])
	b.left -= n
	return n, err
}

// A zip member may unpack to a thousand times its size. Tables of real exports pack to between a fifth and a thirtieth.
const (
	// below this size a member may pack as well as it likes: it does no harm
	bombSize  = 16 << 20
	bombRatio = 150
)

// refuseBomb returns an error for a zip member that is small in the zip and huge outside. The sizes are the zip's
// own claim; the unpacker holds a member to it.
func refuseBomb(name string, f fs.File) error {
	info, err := f.Stat()
	if err != nil {
		return fmt.Errorf("%s: %w", name, cause(err))
	}
	// such a folder in the place of a table would end in an error that names no cause
	if info.IsDir() {
		return fmt.Errorf("%s: is a folder, but should be a file of the export; take a fresh copy", name)
	}
	h, ok := info.Sys().(*zip.FileHeader)
	if ok && h.UncompressedSize64 > bombSize && h.UncompressedSize64/max(1, h.CompressedSize64) > bombRatio {
		return fmt.Errorf("%s: %d bytes in the zip would unpack to %d; refused, take a fresh copy of the export",
			name, h.CompressedSize64, h.UncompressedSize64)
	}
	return nil
}
