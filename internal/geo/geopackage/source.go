package geopackage

import (
	"io"
	"io/fs"
	"sync"
	"time"
)

// fileName is what the one file of a source is called inside.
const fileName = "database"

// source hands the caller's bytes to the database library as a file system of one file. It keeps the first error of
// reading, for which the library has only a number.
type source struct {
	r    io.ReaderAt
	size int64

	mu  sync.Mutex
	err error
}

// Open opens the file; everything else, such as a journal beside it, is not there.
func (s *source) Open(name string) (fs.File, error) {
	if name != fileName {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	// A section of its own for every opening, so that places do not mix.
	return &sourceFile{SectionReader: io.NewSectionReader(s.r, 0, s.size), source: s}, nil
}

// fail keeps the first error; the library may go on and read after it.
func (s *source) fail(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.err == nil {
		s.err = err
	}
}

func (s *source) failure() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.err
}

// sourceFile is the file opened; it is its own description.
type sourceFile struct {
	*io.SectionReader
	source *source
}

// Read reads on, and keeps an error that is not the end of the file.
func (f *sourceFile) Read(p []byte) (int, error) {
	n, err := f.SectionReader.Read(p)
	if err != nil && err != io.EOF {
		f.source.fail(err)
	}
	return n, err
}

// The rest makes it an fs.File and its fs.FileInfo.

func (f *sourceFile) Stat() (fs.FileInfo, error) { return f, nil }
func (f *sourceFile) Close() error               { return nil }
func (f *sourceFile) Name() string               { return fileName }
func (f *sourceFile) Mode() fs.FileMode          { return 0o444 }

// No time: the caller's bytes have none that matters.
func (f *sourceFile) ModTime() time.Time { return time.Time{} }
func (f *sourceFile) IsDir() bool        { return false }
func (f *sourceFile) Sys() any           { return nil }
