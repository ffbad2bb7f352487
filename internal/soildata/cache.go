package soildata

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"rootworthy/internal/atomicfile"
	"rootworthy/internal/diag"
)

// cache is a folder with a folder for each survey, named by area, version and date:
//
//	AR017-22-2021-09-13                     a whole survey area
//	AR017-22-2021-09-13-part-0123456789ab   what met some fields
//	AR017-22-2021-09-13.parts               answers of one that is not complete yet
//	fields/<digest>.json                    which of them some fields need
type cache struct {
	dir    string
	faults *diag.List
}

// partsEnding marks folders of answers, which are no surveys yet.
const partsEnding = ".parts"

// find returns a survey of the cache if it is there and sound. Damage is told.
func (c cache) find(name, remedy string) (Fetched, bool) {
	dir := filepath.Join(c.dir, name)
	// Every file is summed up anew each time: a cache lies about for years, and half a survey would look like ground without
	// soil.
	m, err := verify(dir)
	if err == nil {
		return m.fetched(dir, true), true
	}
	// absent is the usual case and no news
	if !errors.Is(err, fs.ErrNotExist) {
		c.faults.Notice(diag.Fault{File: dir, Kind: "damaged copy", What: err.Error(), Fix: remedy})
	}
	return Fetched{}, false
}

// fetched describes a folder of the cache to whoever asked for it.
func (m manifest) fetched(dir string, cached bool) Fetched {
	return Fetched{Symbol: m.Symbol, Version: m.Version, Date: m.Date, Folder: dir, Whole: m.Part == "", Cached: cached,
		Units: m.Units, Polygons: m.Polygons}
}

// newest returns the newest sound whole survey of an area.
func (c cache) newest(symbol string) (Fetched, bool) {
	entries, _ := os.ReadDir(c.dir)
	var found []manifest
	for _, e := range entries {
		if !e.IsDir() || !strings.HasPrefix(e.Name(), symbol+"-") || strings.HasSuffix(e.Name(), partsEnding) {
			continue
		}
		b, err := readBounded(filepath.Join(c.dir, e.Name(), manifestFile), maxManifest)
		var m manifest
		// The manifests alone, to find the order; the files are summed up for the one that is taken.
		if err == nil && json.Unmarshal(b, &m) == nil && m.Symbol == symbol && m.Part == "" && m.naming().folder() == e.Name() {
			found = append(found, m)
		}
	}
	slices.SortFunc(found, func(a, b manifest) int {
		// versions are numbers in text: the longer is the larger
		return cmp.Or(-cmp.Compare(a.Date, b.Date), -cmp.Compare(len(a.Version), len(b.Version)), -cmp.Compare(a.Version, b.Version))
	})
	// The newest that is sound: an older one that is whole serves better offline than none.
	for _, m := range found {
		if f, ok := c.find(m.naming().folder(), "it is not used; fetch it again"); ok {
			return f, true
		}
	}
	return Fetched{}, false
}

// store writes a survey and puts it in its place, whole or not at all. It is written beside its parts, so that what a
// killed program leaves is swept with them.
func (c cache) store(ctx context.Context, s *survey, source string) (Fetched, error) {
	dir := filepath.Join(c.dir, s.name.folder())
	parts := dir + partsEnding
	if err := os.MkdirAll(parts, 0o755); err != nil {
		return Fetched{}, fmt.Errorf("%s: cannot be made: %w", parts, err)
	}
	tmp, err := os.MkdirTemp(parts, "new-*.tmp")
	if err != nil {
		return Fetched{}, fmt.Errorf("%s: cannot write: %w", parts, err)
	}
	defer os.RemoveAll(tmp)
	// A folder within the temporary one, so that its own name is free: what is moved away goes beside it and is removed with
	// it.
	fresh := filepath.Join(tmp, "new")
	if err := os.Mkdir(fresh, 0o755); err != nil {
		return Fetched{}, err
	}
	// The manifest is checked against the folder's name only once it stands in its place.
	m, err := s.write(ctx, fresh, source)
	if err != nil {
		return Fetched{}, err
	}
	// Two programs may fetch the same; whoever is second finds a sound copy and keeps it.
	if other, err := verify(dir); err == nil { // another program was quicker
		return other.fetched(dir, false), nil
	}
	if err := replace(dir, fresh, filepath.Join(tmp, "old")); err != nil {
		return Fetched{}, fmt.Errorf("%s: cannot be put in place: %w", dir, err)
	}
	if _, err := verify(dir); err != nil {
		return Fetched{}, fmt.Errorf("%s: %w; fetch it again", dir, err)
	}
	return m.fetched(dir, false), nil
}

// replace moves a folder into place and the one that stood there out of it.
func replace(dir, fresh, old string) error {
	// The old copy is moved away and not removed first: if the second move fails it can come back.
	err := os.Rename(dir, old)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	moved := err == nil
	if err := os.Rename(fresh, dir); err != nil {
		if moved {
			err = errors.Join(err, os.Rename(old, dir))
		}
		return err
	}
	return nil
}

// sweep removes parts of other versions of an area, which nobody can complete any more.
func (c cache) sweep(n naming) {
	entries, _ := os.ReadDir(c.dir)
	same := naming{symbol: n.symbol, version: n.version, date: n.date}.folder()
	for _, e := range entries {
		name, isParts := strings.CutSuffix(e.Name(), partsEnding)
		// Parts of the same version, of the whole area or not, are left: they may still be wanted.
		if isParts && strings.HasPrefix(name, n.symbol+"-") && name != same && !strings.HasPrefix(name, same+"-part-") {
			os.RemoveAll(filepath.Join(c.dir, e.Name()))
		}
	}
}

// fieldsEntry remembers which surveys some fields need, for use offline.
type fieldsEntry struct {
	Format  string   `json:"format"`
	Folders []string `json:"folders"` // names within the cache; none: no survey has the fields
}

// fieldsPath is where it stands which surveys some fields need. The name is a digest: fields are not told by the cache.
func (c cache) fieldsPath(fingerprint string) string {
	return filepath.Join(c.dir, "fields", fingerprint+".json")
}

// remember keeps which surveys some fields needed, also that there were none.
func (c cache) remember(fingerprint string, fetched []Fetched) error {
	// An empty list is written as [] and means that no survey has the fields.
	e := fieldsEntry{Format: manifestFormat, Folders: []string{}}
	for _, f := range fetched {
		e.Folders = append(e.Folders, filepath.Base(f.Folder))
	}
	path := c.fieldsPath(fingerprint)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("%s: cannot be made: %w", filepath.Dir(path), err)
	}
	return atomicfile.Write(path, func(w io.Writer) error {
		b, err := json.Marshal(e)
		if err != nil {
			return err
		}
		_, err = w.Write(append(b, '\n'))
		return err
	})
}

// recall returns the surveys that some fields needed when they were asked for last.
func (c cache) recall(fingerprint string) (e fieldsEntry, ok bool) {
	b, err := readBounded(c.fieldsPath(fingerprint), maxManifest)
	if err != nil || json.Unmarshal(b, &e) != nil || e.Format != manifestFormat {
		return e, false
	}
	for _, name := range e.Folders {
		// a list that names folders outside the cache was not written here
		if name == "" || name != filepath.Base(name) || strings.HasPrefix(name, ".") {
			return e, false
		}
	}
	return e, true
}
