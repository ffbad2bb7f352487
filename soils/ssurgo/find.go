package ssurgo

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"rootworthy/internal/diag"
)

// How far the search for survey areas goes: beyond this it is somebody's whole disk, or a hostile zip.
const (
	maxDepth   = 12
	maxEntries = 200_000
)

// area is one survey area of an export: its tables and its map. Either files, with tabular and layers, or source and chart are set, or
// one of the latter two alone.
type area struct {
	export  string // name of the export as the user gave it
	fsys    fs.FS
	tabular string            // folder of the tables
	files   map[string]string // lower-case file name without .txt → path of the table
	layers  []layerFiles      // map unit polygon layers
	source  Source            // of the tables when they are no text files
	chart   Map               // of the polygons when they are no shapefile of the export
	part    bool              // cut out of a survey area
	bare    bool              // given for its tables alone: no map is missed
	faults  *diag.List
	copied  bool // a third party's copy with header rows, which also escapes quotes with a backslash

	headerTold bool // that tables begin with a header row

	interned map[string]string // texts kept, each once
}

// path returns a table's file as the user would look for it.
func (a *area) path(file string) string {
	if a.source != nil {
		return a.source.Place(tableOf(file))
	}
	// a table that is not there is named as it would be, so that its owner can look for it
	p, ok := a.files[file]
	if !ok {
		p = path.Join(a.tabular, file+".txt")
	}
	return join(a.export, p)
}

// join puts the name that the user gave and a path in it together, as a file that he can look for.
func join(export, p string) string {
	if export == "" || p == "." {
		return export + strings.TrimPrefix(p, ".")
	}
	return strings.TrimSuffix(export, "/") + "/" + p
}

// findAreas looks for folders with a mapunit.txt, called tabular or being the root itself, in the order of their names.
func findAreas(ctx context.Context, name string, fsys fs.FS, faults *diag.List) ([]*area, error) {
	var found []*area
	entries := 0
	err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		// Counted before anything is done with the entry, so that a zip of a million names ends here.
		if entries++; entries > maxEntries {
			return fmt.Errorf("%s: more than %d files; give the folder of the soil survey export itself", name, maxEntries)
		}
		if err != nil {
			return skipUnreadable(name, p, d, err, faults)
		}
		// Real exports nest two folders deep; archives of archives somewhat more.
		if d.IsDir() && strings.Count(p, "/") >= maxDepth {
			return fs.SkipDir
		}
		if folder := path.Dir(p); !d.IsDir() && strings.EqualFold(path.Base(p), "mapunit.txt") &&
			// a mapunit.txt in a folder of another name is not taken for that of an export
			(folder == "." || strings.EqualFold(path.Base(folder), "tabular")) {
			found = append(found, &area{export: name, fsys: fsys, tabular: folder, faults: faults, interned: map[string]string{}})
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return found, nil
}

// skipUnreadable goes past a folder below the root that cannot be listed.
func skipUnreadable(name, p string, d fs.DirEntry, err error, faults *diag.List) error {
	// Nothing can be read at all, which is an error; below the root the rest may be what was meant.
	if p == "." {
		return fmt.Errorf("%s: %w", name, cause(err))
	}
	faults.Add(diag.Fault{File: join(name, p), Kind: "unreadable", What: "cannot be read: " + cause(err).Error(), Fix: "left out"})
	if d != nil && d.IsDir() {
		return fs.SkipDir
	}
	return nil
}

// cause strips the operation and path that a *fs.PathError repeats.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// list notes the tables and polygon layers of the area.
func (a *area) list() error {
	entries, err := fs.ReadDir(a.fsys, a.tabular)
	if err != nil {
		return fmt.Errorf("%s: %w", join(a.export, a.tabular), cause(err))
	}
	a.files = map[string]string{}
	for _, e := range entries {
		// by small letters, as tables are asked for
		if name := strings.ToLower(e.Name()); !e.IsDir() && strings.HasSuffix(name, ".txt") {
			a.files[strings.TrimSuffix(name, ".txt")] = path.Join(a.tabular, e.Name())
		}
	}
	a.layers = a.findLayers()
	return nil
}
