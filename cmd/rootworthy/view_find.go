package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"rootworthy/soils/lab"
	"rootworthy/suitability"
)

// mostFound bounds a file that is looked for: no reader of tests takes a larger one.
const mostFound = lab.MostBytes

// finding looks for the files of a run in folders, by name and digest, as its record has them. The record holds no path, so that a run may be given away
// and says nothing of the disk that it was made on; the digest tells the file from any other of its name, so that folders may
// be looked through without a risk. Links are followed: they are the user's own.
func finding(folders []string) func(in suitability.Input) ([]byte, error) {
	return func(in suitability.Input) ([]byte, error) {
		if in.Name == "" || in.Name == "." || in.Name == ".." || in.Name != baseName(in.Name) { // a record is a file too, and anybody's
			return nil, nil
		}
		other := false
		for _, dir := range folders {
			text, err := readRegular(filepath.Join(dir, in.Name))
			switch {
			case errors.Is(err, fs.ErrNotExist):
				continue
			case err != nil:
				return nil, fmt.Errorf("%s cannot be read: %w", in.Name, causeOf(err))
			}
			if in.Is(text) {
				return text, nil
			}
			other = true // but another folder may still have the right one
		}
		if other {
			return nil, fmt.Errorf("%s is no longer the file that it was made with: it was changed since", in.Name)
		}
		return nil, nil
	}
}

// readRegular reads a file that is one: a pipe or a device of the name would never end, and is as good as not there. One that is too large is cut off
// and then has another digest.
func readRegular(path string) ([]byte, error) {
	if st, err := os.Stat(path); err != nil {
		return nil, err
	} else if !st.Mode().IsRegular() {
		return nil, fs.ErrNotExist
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, int64(mostFound)))
}

// causeOf leaves out the path, which a page does not tell.
func causeOf(err error) error {
	if p := (*fs.PathError)(nil); errors.As(err, &p) {
		return p.Err
	}
	return err
}

// where are the folders in which a user is likely to have the tests of a run: beside the run, beside the fields and the files that the page was started
// with, and where the program was started. Each once, in that order.
func (f *viewFlags) where(run string, paths []string) []string {
	out := []string{filepath.Dir(filepath.Clean(run))}
	for _, p := range slices.Concat(paths, f.tests, []string{f.mapping, f.table}) {
		if p != "" {
			out = append(out, dirOf(p))
		}
	}
	var once []string
	for _, dir := range append(out, ".") {
		if dir = filepath.Clean(dir); !slices.Contains(once, dir) {
			once = append(once, dir)
		}
	}
	return once
}
