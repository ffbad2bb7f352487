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

// main is the file that the others belong to: the .shp of a shapefile, else the first by name.
func (m inMemory) main() string {
	names := m.names()
	for _, n := range names {
		if strings.EqualFold(path.Ext(n), ".shp") {
			return n
		}
	}
	return names[0]
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
