package shapefile

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"rootworthy/internal/diag"
)

// maxEntries bounds the search for layers in a folder or zip.
const maxEntries = 200_000

// Find returns the paths of all .shp below the root of fsys, sorted. What one system's packer adds for itself
// (__MACOSX, names that begin with a dot) is passed over.
func Find(fsys fs.FS) ([]string, error) { return FindExt(fsys, ".shp") }

// FindExt is [Find] for files with any of the endings given, in small letters.
func FindExt(fsys fs.FS, ext ...string) ([]string, error) {
	var out []string
	seen := 0
	err := fs.WalkDir(fsys, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return cause(err)
		}
		// Counted before the names are looked at: it bounds the walk, not the finds.
		if seen++; seen > maxEntries {
			return fmt.Errorf("holds more than %d files; name the one that is meant", maxEntries)
		}
		if name := d.Name(); file != "." && (strings.HasPrefix(name, ".") || name == "__MACOSX") {
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		if !d.IsDir() && slices.Contains(ext, strings.ToLower(path.Ext(file))) {
			out = append(out, file)
		}
		return nil
	})
	return out, err
}

// OpenOnly opens the one polygon layer of a folder or zip that the user called name. With several it asks for one
// by name: layer is the path of its .shp or its last part, with or without the ending.
func OpenOnly(name string, fsys fs.FS, layer string, faults *diag.List) (*Layer, error) {
	all, err := Find(fsys)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if layer != "" {
		return openNamed(name, fsys, all, layer, faults)
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("%s: %w", name, nothingIn(fsys))
	}
	if len(all) > 1 {
		// Exports put lines and points beside the polygons; those are not what was meant.
		all = onlyPolygons(name, fsys, all)
	}
	if len(all) > 1 {
		return nil, fmt.Errorf("%s: holds %d polygon layers (%s); name the one that is meant", name, len(all), listed(all))
	}
	return Open(name+"/"+all[0], fsys, all[0], faults)
}

// openNamed opens the layer that the user named, by its path or the last part of it, capitals aside.
func openNamed(name string, fsys fs.FS, all []string, layer string, faults *diag.List) (*Layer, error) {
	want := strings.TrimSuffix(strings.ToLower(layer), ".shp")
	for _, file := range all {
		full := strings.TrimSuffix(strings.ToLower(file), ".shp")
		if full == want || path.Base(full) == want {
			return Open(name+"/"+file, fsys, file, faults)
		}
	}
	return nil, fmt.Errorf("%s: has no layer %q; it holds %s", name, layer, listed(all))
}

// onlyPolygons leaves the layers that can be opened as polygons, or the first layer if none can: opening that one
// then says why.
func onlyPolygons(name string, fsys fs.FS, all []string) []string {
	var out []string
	for _, file := range all {
		// Without faults: this is a look, and what is wrong with the layer is told when it is opened.
		l := &Layer{Name: name + "/" + file, fsys: fsys, files: siblings{shp: file}}
		if l.openShapes() == nil {
			out = append(out, file)
		}
	}
	if len(out) == 0 {
		return all[:1]
	}
	return out
}

// nothingIn says what stands where a shapefile was looked for.
func nothingIn(fsys fs.FS) error {
	if zips, err := FindExt(fsys, ".zip"); err == nil && len(zips) > 0 {
		return fmt.Errorf("holds no .shp but another zip (%s); unpack it first", listed(zips))
	}
	return errors.New("holds no .shp")
}

// listed names the first few of a list.
func listed(names []string) string {
	const most = 10
	if len(names) == 0 {
		return "no .shp"
	}
	s := strings.Join(names[:min(len(names), most)], ", ")
	if more := len(names) - most; more > 0 {
		s += fmt.Sprintf(" and %d more", more)
	}
	return s
}
