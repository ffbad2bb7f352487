package soildata

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// manifestFile stands in the folder of a survey and marks it as complete.
const manifestFile = "manifest.json"

// manifestFormat names the form of the manifest; a folder of another form is fetched again.
const manifestFormat = "rootworthy survey cache 1"

// maxManifest bounds what is read of a manifest; a survey has some twenty files.
const maxManifest = 1 << 20

// manifest says what a folder of the cache holds, and what each file must be.
type manifest struct {
	Format   string `json:"format"`
	Symbol   string `json:"survey_area"`
	Version  string `json:"version"`
	Date     string `json:"date"`
	Part     string `json:"part,omitempty"` // digest of the polygon keys; empty for a whole area
	Units    int    `json:"map_units"`
	Polygons int    `json:"polygons"`
	// The address is kept for people; a copy from another address with the same digest is the same survey.
	Source string    `json:"source"` // where the service was asked
	Files  []fileSum `json:"files"`  // by name
}

// fileSum is what one file of the folder must be.
type fileSum struct {
	Name   string `json:"name"`
	Size   int64  `json:"size"`
	SHA256 string `json:"sha256"`
}

// naming is the survey that the manifest says the folder is.
func (m manifest) naming() naming { return naming{m.Symbol, m.Version, m.Date, m.Part} }

// write writes the manifest. It is the last file of a folder: with it the folder is whole.
func (m manifest) write(w io.Writer) error {
	b, err := json.MarshalIndent(m, "", " ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(b, '\n'))
	return err
}

// errDamaged begins every error about a folder that is not as it was written.
var errDamaged = errors.New("not as it was written")

// damaged makes an error about a folder that is not as it was written.
func damaged(format string, args ...any) error {
	return fmt.Errorf("%w: %s", errDamaged, fmt.Sprintf(format, args...))
}

// verify reads the manifest of a folder and compares every file with it. The error is fs.ErrNotExist when there is no
// such folder, else tells the first damage.
func verify(dir string) (manifest, error) {
	var m manifest
	// not there at all, which is no damage
	if _, err := os.Stat(dir); err != nil {
		return m, fs.ErrNotExist
	}
	b, err := readBounded(filepath.Join(dir, manifestFile), maxManifest)
	if err != nil {
		return m, damaged("%s cannot be read", manifestFile)
	}
	dec := json.NewDecoder(bytes.NewReader(b))
	// a manifest with more in it is of another program version, whose rules are not known
	dec.DisallowUnknownFields()
	if err := dec.Decode(&m); err != nil || m.Format != manifestFormat {
		return m, damaged("%s is not one of this program's", manifestFile)
	}
	// a folder that was renamed or copied would pass as another survey
	if m.naming().folder() != filepath.Base(dir) {
		return m, damaged("%s is of another survey", manifestFile)
	}
	// By content and not by time or size alone: a file that was opened and saved in a spreadsheet keeps its name and loses
	// its leading zeros.
	for _, f := range m.Files {
		// no "..", no absolute path: checking must not read files elsewhere
		if !fs.ValidPath(f.Name) {
			return m, damaged("%s names a file outside the folder", manifestFile)
		}
		if sum, size, err := sumFile(filepath.Join(dir, filepath.FromSlash(f.Name))); err != nil || sum != f.SHA256 || size != f.Size {
			return m, damaged("%s has changed or is missing", f.Name)
		}
	}
	return m, m.strangers(dir)
}

// strangers finds files of a survey that the manifest does not know; a reader would take them for part of it.
// Files that no reader would look at (a note, a picture) are let be.
func (m manifest) strangers(dir string) error {
	return filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return damaged("%s cannot be read", filepath.Base(p))
		}
		rel, err := filepath.Rel(dir, p)
		if err != nil {
			return err
		}
		name := filepath.ToSlash(rel)
		known := slices.ContainsFunc(m.Files, func(f fileSum) bool { return f.Name == name }) || name == manifestFile
		if !d.IsDir() && !known && readable(name) {
			return damaged("%s was put there by somebody else", name)
		}
		return nil
	})
}

// readable says whether a reader of surveys would look into a file of that name.
func readable(name string) bool {
	return slices.Contains([]string{".txt", ".shp", ".dbf", ".shx", ".prj", ".cpg"}, strings.ToLower(path.Ext(name)))
}

// sumFile sums up a file as it stands on the disk.
func sumFile(p string) (sum string, size int64, err error) {
	f, err := os.Open(p)
	if err != nil {
		return "", 0, err
	}
	defer f.Close()
	h := sha256.New()
	size, err = io.Copy(h, f)
	return hex.EncodeToString(h.Sum(nil)), size, err
}
