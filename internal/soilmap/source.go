package soilmap

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
)

// Source is one survey, or part of one, as the user named it.
type Source struct {
	Name   string // stands in messages
	Files  fs.FS  // the folder it is in: parts of a shapefile are looked for there. Files should be io.ReaderAt; those of a zip are read whole
	Path   string // of the file in Files, or "." for the folder itself
	Tables bool   // it is given for its tables alone
}

// kind is what a file is.
type kind uint8

const (
	kindUnknown kind = iota
	kindDatabase
	kindShapefile
	kindGeoJSON
	kindFlatGeobuf
	kindGML
	kindRaster
	kindGeodatabase
)

// kindOf tells by the first bytes what a file is.
func kindOf(head []byte) kind {
	text := bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\ufeff")), " \t\r\n")
	switch {
	case bytes.HasPrefix(head, []byte("SQLite format 3\x00")):
		return kindDatabase
	// 9994, big-endian
	case bytes.HasPrefix(head, []byte{0, 0, 0x27, 0x0a}):
		return kindShapefile
	case bytes.HasPrefix(head, []byte("fgb")):
		return kindFlatGeobuf
	case bytes.HasPrefix(head, []byte("II*\x00")) || bytes.HasPrefix(head, []byte("MM\x00*")) ||
		// the second pair is BigTIFF: version 43 is a plus sign
		bytes.HasPrefix(head, []byte("II+\x00")) || bytes.HasPrefix(head, []byte("MM\x00+")):
		return kindRaster
	// JSON and XML by their first letter alone: which of the many kinds it is, their readers say with a better message.
	case bytes.HasPrefix(text, []byte("{")):
		return kindGeoJSON
	case bytes.HasPrefix(text, []byte("<")):
		return kindGML
	}
	return kindUnknown
}

// endings are those of files that a folder is looked through for.
var endings = map[string]bool{".gpkg": true, ".sqlite": true, ".db": true, ".shp": true, ".geojson": true, ".fgb": true, ".gml": true,
	".tif": true, ".tiff": true}

// recognise opens the file of a source and tells what it is.
func (s Source) recognise() (kind, error) {
	// a folder, which has no first bytes
	if strings.EqualFold(path.Ext(s.Name), ".gdb") {
		return kindGeodatabase, nil
	}
	f, err := s.Files.Open(s.Path)
	if err != nil {
		return kindUnknown, fmt.Errorf("%s: %w", s.Name, cause(err))
	}
	defer f.Close()
	// white space and a declaration may stand before the first letter of a text
	head := make([]byte, 512)
	// a file shorter than that is no error here
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return kindUnknown, fmt.Errorf("%s: %w", s.Name, cause(err))
	}
	k := kindOf(head[:n])
	if k == kindUnknown {
		return k, fmt.Errorf("%s: not a soil survey that can be read; give a survey export (folder or zip), a GeoPackage or SQLite database, "+
			"polygons with map unit keys (GeoJSON, shapefile, FlatGeobuf, GML), or a GeoTIFF of map unit keys", s.Name)
	}
	return k, nil
}

// unzippable is the largest member of a zip that is read whole, for formats that are read out of order.
const unzippable = 256 << 20

// openAt opens a file for reading out of order.
func (s Source) openAt() (r io.ReaderAt, size int64, closeFile func() error, err error) {
	f, err := s.Files.Open(s.Path)
	if err != nil {
		return nil, 0, nil, fmt.Errorf("%s: %w", s.Name, cause(err))
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, 0, nil, fmt.Errorf("%s: %w", s.Name, cause(err))
	}
	// a file on disk, read in place; a member of a zip can only be unpacked from its beginning
	if at, ok := f.(io.ReaderAt); ok {
		return at, info.Size(), f.Close, nil
	}
	defer f.Close()
	// A byte more than allowed, to tell a file of just that size from a larger one; what a zip claims of its members is not
	// believed.
	b, err := io.ReadAll(io.LimitReader(f, unzippable+1))
	if err != nil {
		return nil, 0, nil, fmt.Errorf("%s: %w", s.Name, cause(err))
	}
	if len(b) > unzippable {
		return nil, 0, nil, fmt.Errorf("%s: too large to be read within a zip; unpack it", s.Name)
	}
	return bytes.NewReader(b), int64(len(b)), func() error { return nil }, nil
}

// cause strips the operation and path from a file error: the caller names the file as the user did.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
