package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// How far a folder is looked through for zips.
const (
	// Folders within folders, as downloads are sorted by state and county; and so many names at most, so that a slip such as the root of a
	// disk ends soon.
	zipDepth   = 3
	zipEntries = 20_000
)

// unfolded puts in the place of each folder that holds zips as downloaded, and nothing else that could be a survey, those
// zips in the order of their names.
func unfolded(paths []string) []string {
	var out []string
	for _, p := range paths {
		if zips := zipsAlone(p); len(zips) > 0 {
			out = append(out, zips...)
			continue
		}
		out = append(out, p)
	}
	return out
}

// zipsAlone returns the zips in a folder, or nothing if it holds another file that a survey can be made of. What cannot
// be looked into is left to the reader of surveys, which tells.
func zipsAlone(folder string) []string {
	if st, err := os.Stat(folder); err != nil || !st.IsDir() {
		return nil
	}
	var zips []string
	n, other := 0, false
	err := fs.WalkDir(os.DirFS(folder), ".", func(p string, d fs.DirEntry, err error) error {
		n++
		switch name := strings.ToLower(d.Name()); {
		case err != nil || n > zipEntries:
			return fs.SkipAll
		// A file geodatabase is a folder and a survey in itself; its inside is not looked at.
		case d.IsDir() && (strings.HasSuffix(name, ".gdb") || strings.Count(p, "/") >= zipDepth):
			other = other || strings.HasSuffix(name, ".gdb")
			return fs.SkipDir
		// "._NAME" are the shadows that one system leaves on the drives of others.
		case d.IsDir() || strings.HasPrefix(name, "._"):
		case strings.HasSuffix(name, ".zip"):
			zips = append(zips, filepath.Join(folder, filepath.FromSlash(p)))
		case name == "mapunit.txt" || surveyEnding(name):
			other = true
			return fs.SkipAll
		}
		return nil
	})
	if err != nil || other || n > zipEntries {
		return nil
	}
	return zips
}

// surveyEnding says whether a file's name is that of something the survey readers take, other than the tables.
func surveyEnding(name string) bool {
	switch filepath.Ext(name) {
	case ".gpkg", ".sqlite", ".db", ".shp", ".geojson", ".fgb", ".gml", ".tif", ".tiff":
		return true
	}
	return false
}
