package exchange

import (
	"archive/zip"
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"

	"rootworthy/export"
	"rootworthy/internal/geo/shapefile"
)

// mostDecimals bounds the digits behind the point: a square metre to the nanometre squared is exact enough.
const mostDecimals = 9

// shapeColumns returns the columns with names of ten letters. Numbers get as many decimals as their values have.
func (s *Set) shapeColumns() []shapefile.Column {
	out := make([]shapefile.Column, len(s.zones.Columns))
	for i, c := range s.zones.Columns {
		out[i] = shapefile.Column{Name: c.Short(), Type: 'C'}
		if c.Type == export.Text {
			continue
		}
		out[i].Type = 'N'
		// The width of a column is fixed for the whole file, so all values are looked at before the first is written.
		for _, r := range s.zones.Rows {
			if x, ok := r.Values[i].Float(); ok {
				out[i].Decimals = max(out[i].Decimals, decimals(x))
			}
		}
	}
	return out
}

// decimals is how many digits a number has behind the point when it is written whole.
func decimals(x float64) int {
	_, behind, _ := strings.Cut(strconv.FormatFloat(x, 'f', -1, 64), ".")
	return min(len(behind), mostDecimals)
}

// shapeEncoder goes over all values once; Cut then says how many texts are too long.
func (s *Set) shapeEncoder() (*shapefile.Encoder, error) {
	return shapefile.NewEncoder(s.shapeColumns(), rowsOf(s.zones.Columns, s.zones.Rows))
}

// noteCuts tells of texts that a shapefile cuts.
func (s *Set) noteCuts() error {
	for _, f := range s.formats {
		if f.Name != "shapefile" {
			continue
		}
		enc, err := s.shapeEncoder()
		if err != nil {
			return fmt.Errorf("shapefile: %w", err)
		}
		if enc.Cut > 0 {
			s.Notes = append(s.Notes, fmt.Sprintf("shapefile: %d texts are longer than the 254 bytes it can hold and lost their end; the other formats hold them whole", enc.Cut))
		}
	}
	return nil
}

// writeShapefile writes the five files, the list of long names and the cautions into a zip, files at its root.
func (s *Set) writeShapefile(ctx context.Context, w io.Writer) error {
	enc, err := s.shapeEncoder()
	if err != nil {
		return err
	}
	z := zip.NewWriter(w)
	add := func(name string, fill func(io.Writer) error) error {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: s.when})
		if err != nil {
			return err
		}
		return fill(f)
	}
	// Files of one name at the root of the zip: the form in which programs take a shapefile as one file.
	for ending, fill := range enc.Files() {
		if err := add("zones"+ending, fill); err != nil {
			return err
		}
	}
	// Names of ten letters say little; the list beside them is the only place where a shapefile can explain itself.
	if err := add("fields.csv", s.writeLongNames); err != nil {
		return err
	}
	if err := add("about.txt", func(w io.Writer) error {
		_, err := io.WriteString(w, strings.Join(s.about(), "\r\n\r\n")+"\r\n")
		return err
	}); err != nil {
		return err
	}
	return z.Close()
}

// writeLongNames lists what the short names stand for.
func (s *Set) writeLongNames(w io.Writer) error {
	t := export.NewTable(w, "short_name", "long_name", "unit", "meaning")
	for _, c := range s.zones.Columns {
		t.Row(c.Short(), c.Name, c.Unit, c.Meaning)
	}
	return t.Close()
}
