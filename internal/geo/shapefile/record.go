package shapefile

import (
	"errors"
	"fmt"
	"io"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// Record is one polygon with its attributes. It is valid only during the call it is handed to: rings and row are
// used again for the next record, so what is kept must be copied.
type Record struct {
	Index   int    // place in the .shp, from 0
	Rings   Rings  // as stored; none for a null shape
	Damaged string // why its shape cannot be read, which was told; it then has no rings, but its attributes

	layer *Layer
	row   []byte // nil when the table has no row for this polygon
}

// Records calls f for every record in file order and stops at its first error, which it returns as it is. Records
// marked as deleted are passed over. Damage within a record is in it, and told like all damage: it goes to the faults
// given to [Open]; other errors are of the file system. It may be called again for another pass.
func (l *Layer) Records(f func(*Record) error) error {
	shp, err := l.fsys.Open(l.files.shp)
	if err != nil {
		return fmt.Errorf("%s: %w", l.Name, cause(err))
	}
	defer shp.Close()
	// Table and shapes are walked side by side: the format has no key between them but the order.
	rows, err := l.openRows()
	if err != nil {
		return err
	}
	defer rows.close()
	s := newShpReader(l, shp)
	defer s.index.close()
	// The header was read and judged by Open.
	if err := s.skip(headerSize); err != nil {
		return s.fail(err)
	}
	return l.walk(s, rows, f)
}

// walk hands out records with their rows until the shapes end.
func (l *Layer) walk(s *shpReader, rows *rowReader, f func(*Record) error) error {
	// One for all records: its slices grow to the largest and stay.
	rec := &Record{layer: l}
	deleted := 0
	for {
		shapeErr := s.next(rec)
		if errors.Is(shapeErr, io.EOF) {
			break
		}
		if shapeErr != nil {
			return shapeErr
		}
		// counts deleted records as well, so that it stays the place in the file
		rec.Index = s.n - 1
		var err error
		// The row is read even for a damaged shape, or every row after it would belong to the wrong polygon.
		if rec.row, err = rows.next(); err != nil {
			return err
		}
		switch {
		case rec.row != nil && rec.row[0] == rowDeleted:
			deleted++
		default:
			if err := f(rec); err != nil {
				return err
			}
		}
	}
	if !s.cut { // else the rows left over are no news
		rows.rest()
	}
	if deleted > 0 {
		l.faults.Notice(diag.Fault{File: l.display("dbf"), Kind: "deleted rows", What: fmt.Sprintf("%d records marked as deleted were passed over", deleted)})
	}
	return nil
}

// Polygons is [Layer.Records] with the rings sorted into parts and holes by [Rings.MultiPolygon]; i is the place in
// the .shp from 0. The shape is the caller's to keep, rec is not.
func (l *Layer) Polygons(f func(i int, shape orb.MultiPolygon, rec *Record) error) error {
	return l.Records(func(rec *Record) error { return f(rec.Index, rec.Rings.MultiPolygon(), rec) })
}
