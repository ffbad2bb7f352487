package shapefile

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"math"

	"github.com/paulmach/orb"
)

// WGS84 is the .prj of longitude and latitude in degrees, on one line in the dialect the format's readers expect.
const WGS84 = `GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]`

// Rows are the records to write: a shape and a value for each column. They are walked through once for each file, so
// they must yield the same again each time.
//
// Values are nil (missing, written blank), string for C, float64 or int for N and F, bool for L, "YYYY-MM-DD" for D.
type Rows = iter.Seq2[orb.MultiPolygon, []any]

// Encoder writes one layer. Each method fills one of the five files, which must all have the same base name; the
// caller decides where they stand and that they appear together:
//
//	enc, err := shapefile.NewEncoder(columns, rows)
//	for ext, fill := range enc.Files() { err = atomicfile.Write(base+ext, fill) }
type Encoder struct {
	Projection string // of the .prj; empty means WGS84
	Cut        int    // texts that were longer than their column and lost their end

	columns []Column
	rows    Rows
	n       int
	words   int64 // length of the .shp in 16-bit words
	bounds  orb.Bound
}

// maxWords is the largest file whose length fits the header with room for readers that take it as signed bytes.
const maxWords = math.MaxInt32 / 2

// NewEncoder checks the columns, walks through the rows once to measure them, and names the first row that cannot be
// written. A column of width 0 gets the width its widest value needs.
func NewEncoder(columns []Column, rows Rows) (*Encoder, error) {
	e := &Encoder{rows: rows, words: headerSize / 2, bounds: noBox()}
	var err error
	if e.columns, err = checkColumns(columns); err != nil {
		return nil, err
	}
	// in bytes, of the widest value of each column
	widths := make([]int, len(columns))
	for shape, values := range rows {
		e.n++
		if err := e.measure(shape, values, widths); err != nil {
			return nil, fmt.Errorf("row %d: %w", e.n, err)
		}
	}
	if err := fixWidths(e.columns, widths); err != nil {
		return nil, err
	}
	return e, e.checkSize()
}

// checkSize refuses what the format cannot hold, with all widths known.
func (e *Encoder) checkSize() error {
	// Readers take sizes as signed numbers of four bytes, hence 2 GB for either file.
	if e.words > maxWords || int64(e.n)*int64(total(e.columns)) > math.MaxInt32 {
		return errors.New("the layer is larger than the 2 GB a shapefile can hold; split it")
	}
	if w := total(e.columns); w > math.MaxUint16 {
		return fmt.Errorf("the columns need rows of %d bytes, more than the 65535 a table can hold", w)
	}
	return nil
}

// measure takes one row into account.
func (e *Encoder) measure(shape orb.MultiPolygon, values []any, widths []int) error {
	if len(values) != len(e.columns) {
		return fmt.Errorf("%d values for %d columns", len(values), len(e.columns))
	}
	for i, v := range values {
		// Formatted now and thrown away: only so is a row that cannot be written named before a file is begun.
		text, err := e.columns[i].format(v)
		if err != nil {
			return fmt.Errorf("column %s: %w", e.columns[i].Name, err)
		}
		widths[i] = max(widths[i], len(text))
		if c := e.columns[i]; c.Type == 'C' && len(text) > c.most() {
			e.Cut++
		}
	}
	size, box, err := measureShape(shape)
	if err != nil {
		return err
	}
	e.words += (recordHead + size) / 2
	e.bounds = join(e.bounds, box)
	return nil
}

// Files yields the five endings with what fills each, in a fixed order.
func (e *Encoder) Files() iter.Seq2[string, func(io.Writer) error] {
	return func(yield func(string, func(io.Writer) error) bool) {
		_ = yield(".shp", e.WriteSHP) && yield(".shx", e.WriteSHX) && yield(".dbf", e.WriteDBF) &&
			yield(".prj", e.WritePRJ) && yield(".cpg", e.WriteCPG)
	}
}

// WritePRJ writes the projection.
func (e *Encoder) WritePRJ(w io.Writer) error {
	text := e.Projection
	if text == "" {
		text = WGS84
	}
	_, err := io.WriteString(w, text)
	return err
}

// WriteCPG writes the name of the text encoding.
func (e *Encoder) WriteCPG(w io.Writer) error {
	_, err := io.WriteString(w, "UTF-8")
	return err
}
