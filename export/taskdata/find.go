package taskdata

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
)

// How far task data are looked for. Nobody nests them deeper; a zip may hold a million names.
const (
	deepestFolder = 5
	mostLooked    = 20000
)

// find returns the path of TASKDATA.XML in whatever capitals, the one nearest to the top. Files that file managers leave
// behind ("._TASKDATA.XML", "__MACOSX") are passed over.
func find(fsys fs.FS) (string, error) {
	var found []string
	looked := 0
	err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			if p == "." {
				return err
			}
			return nil // a folder that cannot be read holds nothing for us
		}
		if looked++; looked > mostLooked {
			return fmt.Errorf("more than %d files; give the folder TASKDATA itself", mostLooked)
		}
		switch {
		case d.IsDir() && p != "." && (litter(d.Name()) || strings.Count(p, "/") >= deepestFolder):
			return fs.SkipDir
		case !d.IsDir() && strings.EqualFold(d.Name(), xmlName) && !litter(d.Name()):
			found = append(found, p)
		}
		return nil
	})
	if err != nil {
		return "", err
	}
	return nearest(found)
}

// litter is what file managers leave in zips.
func litter(name string) bool { return strings.HasPrefix(name, ".") || name == "__MACOSX" }

// nearest picks the path with the fewest folders; two at one level leave open which is meant.
// Copies deeper down, such as a backup, do not matter; two side by side do.
func nearest(paths []string) (string, error) {
	best, twin := "", ""
	for _, p := range paths {
		switch n := strings.Count(p, "/") - strings.Count(best, "/"); {
		case best == "" || n < 0:
			best, twin = p, ""
		case n == 0:
			twin = p
		}
	}
	switch {
	case best == "":
		return "", errors.New("holds no TASKDATA.XML; give the folder TASKDATA, the folder it stands in, or its zip")
	case twin != "":
		return "", fmt.Errorf("holds task data twice, %s and %s; give the folder of the one that is meant", best, twin)
	}
	return best, nil
}

// beside returns the name, in its own capitals, of a file that stands beside another.
func beside(fsys fs.FS, of, name string) (string, bool) {
	entries, _ := fs.ReadDir(fsys, path.Dir(of))
	for _, e := range entries {
		if strings.EqualFold(e.Name(), name) && !e.IsDir() {
			return path.Join(path.Dir(of), e.Name()), true
		}
	}
	return "", false
}
