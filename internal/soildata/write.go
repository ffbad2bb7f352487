package soildata

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/atomicfile"
	"rootworthy/internal/geo/shapefile"
)

// formatVersion is the version of the export's layout that is written.
// The layout of the tables by position depends on it: see lastColumn.
const formatVersion = "2.3.3"

// folderWriter writes the files of one folder and sums them up.
type folderWriter struct {
	ctx context.Context
	dir string
	all []fileSum
}

// file writes one file; name has slashes.
func (f *folderWriter) file(name string, fill func(io.Writer) error) error {
	if f.ctx.Err() != nil {
		return context.Cause(f.ctx)
	}
	h := sha256.New()
	counted := &counter{}
	err := atomicfile.Write(filepath.Join(f.dir, filepath.FromSlash(name)), func(w io.Writer) error {
		// summed up while it is written: read back afterwards, damage on the way to the disk would be summed up with it
		return fill(io.MultiWriter(w, h, counted))
	})
	f.all = append(f.all, fileSum{Name: name, Size: counted.n, SHA256: hex.EncodeToString(h.Sum(nil))})
	return err
}

// counter counts bytes on their way.
type counter struct{ n int64 }

func (c *counter) Write(p []byte) (int, error) {
	c.n += int64(len(p))
	return len(p), nil
}

// write writes the survey as an export into dir, which must be there and empty, the manifest last.
func (s *survey) write(ctx context.Context, dir, source string) (manifest, error) {
	for _, sub := range []string{"tabular", "spatial"} {
		if err := os.Mkdir(filepath.Join(dir, sub), 0o755); err != nil {
			return manifest{}, err
		}
	}
	f := &folderWriter{ctx: ctx, dir: dir}
	for _, t := range s.tables {
		if err := f.file("tabular/"+t.layout.File+".txt", t.write); err != nil {
			return manifest{}, err
		}
	}
	for _, extra := range []struct {
		name string
		fill func(io.Writer) error
	}{
		// the description of the tables, so that the folder reads without this program's knowledge of it
		{"tabular/mstabcol.txt", func(w io.Writer) error { return describe(w, s.tables) }},
		{"tabular/mstab.txt", func(w io.Writer) error { return files(w, s.tables) }},
		{"tabular/version.txt", text(formatVersion + "\r\n")},
		{"readme.txt", text(s.readme(source))},
	} {
		if err := f.file(extra.name, extra.fill); err != nil {
			return manifest{}, err
		}
	}
	// after the tables, which are small; a disk that is full tells itself here
	if err := s.writeMap(f); err != nil {
		return manifest{}, err
	}
	// the manifest by name, in whatever order files were written
	slices.SortFunc(f.all, func(a, b fileSum) int { return cmp.Compare(a.Name, b.Name) })
	m := manifest{Format: manifestFormat, Symbol: s.name.symbol, Version: s.name.version, Date: s.name.date, Part: s.name.part,
		Units: len(s.units), Polygons: len(s.polygons), Source: source, Files: f.all}
	return m, atomicfile.Write(filepath.Join(dir, manifestFile), m.write)
}

// text fills a file with a text.
func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

// writeMap writes the polygons as the export has them.
// Source of the columns: .dbf of SSURGO exports.
func (s *survey) writeMap(f *folderWriter) error {
	// MUSYM has no width: it gets that of its longest symbol.
	columns := []shapefile.Column{{Name: "AREASYMBOL", Type: 'C', Width: 20}, {Name: "SPATIALVER", Type: 'N', Width: 10},
		{Name: "MUSYM", Type: 'C'}, {Name: "MUKEY", Type: 'C', Width: 30}}
	// measures all polygons before the first file of the map is begun
	enc, err := shapefile.NewEncoder(columns, s.rows)
	if err != nil {
		return fmt.Errorf("%s: its map does not fit a shapefile: %w", s.name.symbol, err)
	}
	// In the order in which the encoder lists its files.
	for ending, fill := range enc.Files() {
		if err := f.file("spatial/soilmu_a_"+strings.ToLower(s.name.symbol)+ending, fill); err != nil {
			return err
		}
	}
	return nil
}

// rows yields the polygons with their attributes.
func (s *survey) rows(yield func(orb.MultiPolygon, []any) bool) {
	for _, p := range s.polygons {
		var version any
		if n, ok := wholeNumber(p.version); ok {
			version = n
		}
		if !yield(p.shape, []any{p.symbol, version, p.unitSymbol, p.unit}) {
			return
		}
	}
}

// wholeNumber reads a version; one that is no number is left missing in the map, and stands in the tables.
func wholeNumber(s string) (int, bool) {
	if s == "" || len(s) > 9 || strings.Trim(s, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}

// readme says what the folder is, where it is from and how to cite it.
// Source of the citation: the form that the agency asks for.
func (s *survey) readme(source string) string {
	n := s.name
	var b strings.Builder
	fmt.Fprintf(&b, "Soil survey area %s, version %s of %s.\r\n", n.symbol, n.version, n.date)
	if n.part != "" {
		fmt.Fprintf(&b, "Only the %d map units whose polygons meet the fields it was fetched for; their %d polygons are whole.\r\n", len(s.units), len(s.polygons))
	}
	fmt.Fprintf(&b, "Fetched from %s and written in the layout of a survey export,\r\n", source)
	b.WriteString("with the tables and columns that rootworthy reads; other columns are empty, though the survey may have them.\r\n\r\n" +
		"Soil Survey Staff, Natural Resources Conservation Service, United States Department of Agriculture.\r\n")
	fmt.Fprintf(&b, "Soil Survey Geographic (SSURGO) Database, survey area %s, version %s (%s).\r\n\r\n", n.symbol, n.version, n.date)
	b.WriteString("For planning, not for regulation. Enlarged beyond the scale of the survey, the map shows no more than it knows.\r\n" +
		"This folder is a cache: rootworthy compares it with manifest.json and fetches it again when a file has changed.\r\n")
	return b.String()
}
