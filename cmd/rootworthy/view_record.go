package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"rootworthy/internal/atomicfile"
	"rootworthy/internal/web"
)

// mostRecord is how much of a record is read; its reader takes no more.
const mostRecord = 16<<20 + 1

// recordFile opens --record for the page. The file need not be there, its folder must.
func recordFile(path string) (*web.RecordFile, error) {
	if path == "" {
		return nil, nil
	}
	if st, err := os.Stat(path); err == nil && st.IsDir() {
		return nil, usagef("--record: %s is a folder; name a file, which is begun if it is not there", path)
	}
	if st, err := os.Stat(filepath.Dir(path)); err != nil || !st.IsDir() {
		return nil, usagef("--record: there is no folder %s to keep it in", filepath.Dir(path))
	}
	read := func() ([]byte, error) { return readRecord(path) }
	if _, err := read(); err != nil {
		return nil, err
	}
	return &web.RecordFile{Name: baseName(path), Read: read, Write: func(was, text []byte) error { return replaceRecord(path, was, text) }}, nil
}

// readRecord reads the record as it stands; none is an empty one.
func readRecord(path string) ([]byte, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostRecord))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return text, nil
}

// replaceRecord puts a text in the place of another, if the file still holds that. It looks once more when the new text is on the disk
// already, just before it takes the old one's place.
func replaceRecord(path string, was, text []byte) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real // a link stays one
	}
	unchanged := func() error {
		now, err := readRecord(path)
		if err == nil && !bytes.Equal(now, was) {
			err = web.ErrChanged
		}
		return err
	}
	if err := unchanged(); err != nil {
		return err
	}
	st, statErr := os.Stat(path)
	err := atomicfile.Write(path, func(w io.Writer) error {
		if _, err := w.Write(text); err != nil {
			return err
		}
		return unchanged()
	})
	if err == nil && statErr == nil {
		err = os.Chmod(path, st.Mode().Perm()) // who could not read it before still cannot
	}
	return err
}
