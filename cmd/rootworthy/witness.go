package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"sync"

	"rootworthy/suitability"
)

// witness is a file system that remembers which files were read, so that a run can say what it was made from. The
// digest covers the files that were opened and no others: a note beside the data changes nothing.
type witness struct {
	fs.FS
	// What the files were for ("fields", "survey", "tests" …), and the path as typed; the record keeps the last part of it alone.
	role, name string

	mu     sync.Mutex
	opened map[string]bool
}

// Open opens a file and remembers it, folders left out.
func (w *witness) Open(name string) (fs.File, error) {
	f, err := w.FS.Open(name)
	if err != nil {
		return nil, err
	}
	// Files are opened by several goroutines at once.
	if st, err := f.Stat(); err == nil && !st.IsDir() {
		w.mu.Lock()
		if w.opened == nil {
			w.opened = map[string]bool{}
		}
		w.opened[name] = true
		w.mu.Unlock()
	}
	return f, nil
}

// openAll remembers every file, for a library that opens them by itself.
func (w *witness) openAll() error {
	return fs.WalkDir(w.FS, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		f, err := w.Open(p)
		if err != nil {
			return err
		}
		return f.Close()
	})
}

// input returns the SHA-256 of what was read: of the one file's bytes, or, of several, of "name size\n" and the bytes
// of each in order of name.
// It is called after the job, when everything that is needed has been opened.
func (w *witness) input() (suitability.Input, error) {
	names := slices.Sorted(maps.Keys(w.opened))
	h := sha256.New()
	for _, n := range names {
		if err := w.digest(h, n, len(names) > 1); err != nil {
			return suitability.Input{}, err
		}
	}
	return suitability.Input{Role: w.role, Name: baseName(w.name), SHA256: hex.EncodeToString(h.Sum(nil))}, nil
}

// digest puts one file into the sum. It is read once more for it: libraries read parts of files, and not always in order.
func (w *witness) digest(h io.Writer, name string, several bool) error {
	f, err := w.FS.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	// With the name and the size before its bytes, no two sets of files have the same text: where one ends and the next begins is part of it. A
	// single file has the digest that sha256sum prints, for anybody to compare.
	if several {
		st, err := f.Stat()
		if err != nil {
			return err
		}
		fmt.Fprintf(h, "%s %d\n", name, st.Size())
	}
	_, err = io.Copy(h, f)
	return err
}
