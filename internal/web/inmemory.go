package web

import (
	"bytes"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"
)

// inMemory is a file system of files that a browser sent: flat, and never on a disk.
type inMemory map[string][]byte

// beside are endings of files that only accompany a shapefile.
var beside = []string{".dbf", ".shx", ".prj", ".cpg", ".qix", ".sbn", ".sbx", ".qpj", ".qmd"}

// mains are the files that may hold boundaries: all that are neither a laboratory's nor the companion of a shapefile. A
// companion alone is one too, so that its fault is told.
func (m inMemory) mains(u *upload) []string {
	var out, others []string
	for _, n := range m.names() {
		used := u.mapping != nil && u.mapping.Name == n || slices.Contains(u.labs, n)
		end := strings.ToLower(path.Ext(n))
		switch {
		case used:
		case slices.Contains(beside, end) || strings.HasSuffix(strings.ToLower(n), ".shp.xml"):
			others = append(others, n)
		default:
			out = append(out, n)
		}
	}
	if len(out) == 0 && len(others) > 0 {
		return others[:1]
	}
	return out
}

func (m inMemory) names() []string {
	out := make([]string, 0, len(m))
	for n := range m {
		out = append(out, n)
	}
	slices.Sort(out)
	return out
}

// Open opens a file, or the folder that they all stand in.
func (m inMemory) Open(name string) (fs.File, error) {
	if name == "." {
		return &folderInMemory{files: m}, nil
	}
	text, ok := m[name]
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &fileInMemory{bytes.NewReader(text), infoInMemory{name, int64(len(text)), 0}}, nil
}

// fileInMemory can be read at any place, as zips and databases need.
type fileInMemory struct {
	*bytes.Reader
	info infoInMemory
}

func (f *fileInMemory) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f *fileInMemory) Close() error               { return nil }

// folderInMemory lists the files; shapefiles look for their parts.
type folderInMemory struct {
	files inMemory
	told  bool
}

func (d *folderInMemory) Stat() (fs.FileInfo, error) { return infoInMemory{".", 0, fs.ModeDir}, nil }
func (d *folderInMemory) Read([]byte) (int, error)   { return 0, fs.ErrInvalid }
func (d *folderInMemory) Close() error               { return nil }

// ReadDir returns all at once: there are only a few.
func (d *folderInMemory) ReadDir(int) (out []fs.DirEntry, err error) {
	if d.told {
		return nil, nil
	}
	d.told = true
	for _, n := range d.files.names() {
		out = append(out, fs.FileInfoToDirEntry(infoInMemory{n, int64(len(d.files[n])), 0}))
	}
	return out, nil
}

type infoInMemory struct {
	name string
	size int64
	mode fs.FileMode
}

func (i infoInMemory) Name() string       { return i.name }
func (i infoInMemory) Size() int64        { return i.size }
func (i infoInMemory) Mode() fs.FileMode  { return i.mode | 0o444 }
func (i infoInMemory) ModTime() time.Time { return time.Time{} }
func (i infoInMemory) IsDir() bool        { return i.mode.IsDir() }
func (i infoInMemory) Sys() any           { return nil }
