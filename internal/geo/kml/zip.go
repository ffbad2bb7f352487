package kml

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
)

// Main returns the path of the KML in an unpacked KMZ: the one called name if name is not empty, else doc.kml at its
// root, else the only one. The error lists what there is when that does not decide.
func Main(files fs.FS, name string) (string, error) {
	var all []string
	err := fs.WalkDir(files, ".", func(p string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.EqualFold(path.Ext(p), ".kml") && !strings.HasPrefix(path.Base(p), "._") {
			all = append(all, p)
		}
		return err
	})
	if err != nil {
		return "", err
	}
	for _, p := range all {
		// By its whole path or by its name alone. doc.kml counts at the root only: deeper it may be of another layer.
		if name != "" && (strings.EqualFold(p, name) || strings.EqualFold(path.Base(p), name)) || name == "" && strings.EqualFold(p, "doc.kml") {
			return p, nil
		}
	}
	switch {
	case len(all) == 0:
		return "", errors.New("holds no .kml")
	case name != "":
		return "", fmt.Errorf("holds no %q; there are: %s", name, strings.Join(all, ", "))
	case len(all) > 1:
		return "", fmt.Errorf("holds %d .kml files; name one of them: %s", len(all), strings.Join(all, ", "))
	}
	return all[0], nil
}
