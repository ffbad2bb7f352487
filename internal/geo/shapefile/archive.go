package shapefile

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"rootworthy/internal/unzip"
)

// Bounds on what a zip may unfold to. Attribute tables are mostly blanks and shrink to a hundredth; nothing real
// beyond smallMember shrinks to less than 1/maxRatio, while a bomb reaches a thousandth. A .shp and a .dbf can
// have 2 GB each by the format, survey tables less.
const (
	smallMember = 64 << 20
	maxRatio    = 300
	maxMember   = 4 << 30
)

// OpenZip returns the files of a zip. Each is read in a stream and stops with an error when it unfolds to more than
// its own entry says, or says an absurd size; so a bomb costs neither memory nor much time. Name is what the user
// called the zip.
func OpenZip(name string, r io.ReaderAt, size int64) (fs.FS, error) {
	// An empty file would be called "no zip" below, which sends the user looking for the wrong mistake.
	if size == 0 {
		return nil, fmt.Errorf("%s: is empty", name)
	}
	z, err := unzip.Open(r, size)
	if errors.Is(err, zip.ErrFormat) {
		return nil, fmt.Errorf("%s: is no zip, or is cut off: its list of files, which stands at the end, is not there", name)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return archive{z}, nil
}

// archive is a zip whose members are bounded.
type archive struct{ z *zip.Reader }

// Open opens a member. The errors of members that cannot be read say why in the trade's words.
func (a archive) Open(name string) (fs.File, error) {
	f, err := a.z.Open(name)
	if errors.Is(err, zip.ErrAlgorithm) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errors.New("is packed in a way that is not read; pack it again as a plain zip")}
	}
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, err
	}
	// Folders, and whatever else is no packed member, unfold to nothing and need no bound.
	head, ok := info.Sys().(*zip.FileHeader)
	if !ok || info.IsDir() {
		return f, nil
	}
	if err := acceptable(head); err != nil {
		f.Close()
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	// The entry's own size is only a promise: acceptable judges it, member holds the file to it.
	return &member{f, int64(head.UncompressedSize64)}, nil
}

// acceptable judges a member by what its entry says of itself.
func acceptable(h *zip.FileHeader) error {
	// bit 0 of the general purpose flags: the archive library takes no notice of it and would unpack the locked bytes
	const encrypted = 1
	size, packed := h.UncompressedSize64, h.CompressedSize64
	switch {
	case h.Flags&encrypted != 0:
		return errors.New("is locked with a password; unpack it first")
	case size > maxMember || size > smallMember && size/maxRatio > packed:
		return fmt.Errorf("would unfold from %d to %d bytes, as no real file does; it is not opened", packed, size)
	}
	return nil
}

// member is one file of a zip that ends when it has given what its entry promises.
type member struct {
	fs.File
	left int64
}

// Read refuses to go on past the promised size.
func (m *member) Read(p []byte) (int, error) {
	n, err := m.File.Read(p)
	// The bytes past the promise are thrown away, so that nobody parses what a hostile zip adds.
	if m.left -= int64(n); m.left < 0 {
		return 0, errors.New("unfolds to more than its entry in the zip says; the zip is damaged or hostile")
	}
	return n, err
}
