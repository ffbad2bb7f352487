package shapefile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// maxText bounds what is read of a .prj or .cpg; the longest projection texts have a few thousand bytes.
const maxText = 1 << 16

// Layer is one shapefile opened for reading. It holds no open file: each pass over the records opens them anew.
type Layer struct {
	Name       string    // the .shp as the user named it
	Projection string    // text of the .prj; empty when there is none
	Encoding   string    // of the attributes, and where that is known from; for reports
	Columns    []Column  // of the .dbf in file order; empty when there is none
	Bounds     orb.Bound // as the header of the .shp says; not checked against the records
	Rows       int       // rows the .dbf claims to have; a claim only

	fsys   fs.FS
	files  siblings
	header shpHeader
	table  dbfHeader
	text   charset
	faults *diag.List
}

// siblings are the paths of the files of one layer inside the file system; empty where a file is missing.
type siblings struct{ shp, shx, dbf, prj, cpg string }

// Open reads the headers of the shapefile whose .shp stands at shp in fsys. Name is what the user called it and
// stands in messages. The error names a file that is no polygon shapefile or cannot be read; lesser damage goes to
// faults, then and while records are read.
func Open(name string, fsys fs.FS, shp string, faults *diag.List) (*Layer, error) {
	l := &Layer{Name: name, fsys: fsys, faults: faults}
	var err error
	if l.files, err = findSiblings(fsys, shp); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if err := l.openShapes(); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if l.files.dbf == "" {
		faults.Notice(diag.Fault{File: name, Kind: "no .dbf", What: "there is no .dbf beside it, so its polygons have no attributes"})
	} else if err := l.openTable(); err != nil {
		return nil, fmt.Errorf("%s: %w", l.display("dbf"), err)
	}
	// Editors put a byte order mark before the text, which no reader of projections expects.
	l.Projection = strings.TrimPrefix(strings.TrimSpace(l.readText(l.files.prj)), "\ufeff")
	var unknown string
	l.text, unknown = chooseCharset(l.readText(l.files.cpg), l.table.language)
	l.Encoding = l.text.origin
	if unknown != "" && l.files.dbf != "" { // without a table there are no texts to read wrong
		l.tellUnknownPage(unknown)
	}
	l.nameColumns()
	return l, nil
}

// Column returns the place of the column of that name (capitals do not matter), or -1.
func (l *Layer) Column(name string) int {
	for i, c := range l.Columns {
		if strings.EqualFold(c.Name, name) {
			return i
		}
	}
	return -1
}

// display names a sibling as the user would: his .shp with the other ending.
func (l *Layer) display(ext string) string {
	return strings.TrimSuffix(l.Name, path.Ext(l.Name)) + "." + ext
}

// tellUnknownPage tells of a .cpg that names a code page that is not known here. Names in it, and only those, may come
// out with wrong letters; numbers, keys and shapes do not depend on it.
func (l *Layer) tellUnknownPage(said string) {
	const most = 40 // letters worth showing of a file that may hold anything
	if r := []rune(said); len(r) > most {
		said = string(r[:most]) + "…"
	}
	l.faults.Notice(diag.Fault{File: l.display("cpg"), Kind: "code page",
		What: fmt.Sprintf("%q is no code page known here; texts were read as %s", said, l.Encoding),
		Fix:  "if letters beyond a to z are wrong, save the layer with UTF-8 as its encoding (the .cpg then says UTF-8)"})
}

// findSiblings finds the files that share the base name of shp in its folder; capitals do not matter, since files
// come from systems where they do not.
func findSiblings(fsys fs.FS, shp string) (siblings, error) {
	s := siblings{shp: shp}
	info, err := fs.Stat(fsys, shp)
	if err != nil {
		return s, cause(err)
	}
	if info.IsDir() {
		return s, errors.New("is a folder, not a shapefile; name the .shp inside it")
	}
	dir := path.Dir(shp)
	entries, err := fs.ReadDir(fsys, dir)
	if err != nil {
		return s, cause(err)
	}
	base := strings.TrimSuffix(path.Base(shp), path.Ext(shp))
	for _, e := range entries {
		ext := path.Ext(e.Name())
		// The base name must match whole: soil.shp and soil_old.dbf are not of one layer.
		if e.IsDir() || !strings.EqualFold(strings.TrimSuffix(e.Name(), ext), base) {
			continue
		}
		s.set(strings.ToLower(ext), path.Join(dir, e.Name()))
	}
	return s, nil
}

// set notes a file by its ending; endings that are not read are passed over.
func (s *siblings) set(ext, file string) {
	for _, slot := range []struct {
		ext string
		at  *string
	}{{".shx", &s.shx}, {".dbf", &s.dbf}, {".prj", &s.prj}, {".cpg", &s.cpg}} {
		// Of two that differ in capitals only, the first by name counts, on every system.
		if slot.ext == ext && *slot.at == "" {
			*slot.at = file
		}
	}
}

// readText returns a small text file, or nothing: a missing .prj or .cpg is no fault.
func (l *Layer) readText(file string) string {
	if file == "" {
		return ""
	}
	f, err := l.fsys.Open(file)
	if err != nil {
		return ""
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, maxText))
	if err != nil {
		return ""
	}
	return string(b)
}

// cause strips the operation and path from a file error: the caller names the file as the user did.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
