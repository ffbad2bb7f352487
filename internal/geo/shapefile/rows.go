package shapefile

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"rootworthy/internal/diag"
)

// rowReader walks the rows of a .dbf in step with the records of the .shp.
type rowReader struct {
	layer *Layer
	f     fs.File
	in    *bufio.Reader
	row   []byte
	n     int  // rows read
	ended bool // and told
}

// openRows returns nil when the layer has no table; nil yields rows without values.
func (l *Layer) openRows() (*rowReader, error) {
	if l.files.dbf == "" {
		return nil, nil
	}
	f, err := l.fsys.Open(l.files.dbf)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", l.display("dbf"), cause(err))
	}
	r := &rowReader{layer: l, f: f, in: bufio.NewReaderSize(f, readAhead), row: make([]byte, l.table.width)}
	// To the first row by what the header says, for some writers leave room behind the columns.
	if _, err := io.CopyN(io.Discard, r.in, l.table.start); err != nil {
		f.Close()
		return nil, fmt.Errorf("%s: %w", l.display("dbf"), cause(err))
	}
	return r, nil
}

func (r *rowReader) close() {
	if r != nil {
		r.f.Close()
	}
}

// next returns the row of the next record, valid until the next call; nil when there is none. The error is of the
// file system.
func (r *rowReader) next() ([]byte, error) {
	if r == nil || r.ended {
		return nil, nil
	}
	// The header's count is believed before the file's length: what stands behind that many rows is not of the table.
	if r.n >= r.layer.table.rows {
		r.end("rows missing", fmt.Sprintf("the table ends after %d rows, but there are more polygons; they have no attributes", r.n))
		return nil, nil
	}
	got, err := io.ReadFull(r.in, r.row)
	switch {
	// A row begins with a blank or the deletion mark; the end mark there means that rows are missing.
	case err == nil && r.row[0] != fileEnd:
		r.n++
		return r.row, nil
	case err == nil || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
		r.end("cut off", fmt.Sprintf("the file ends in row %d (%d of %d bytes), but its header promises %d rows; the polygons from there on have no attributes",
			r.n+1, got, len(r.row), r.layer.table.rows))
		return nil, nil
	}
	return nil, fmt.Errorf("%s: row %d: %w", r.layer.display("dbf"), r.n+1, cause(err))
}

// rest tells of rows left over once the polygons have ended.
func (r *rowReader) rest() {
	if r == nil || r.ended || r.n >= r.layer.table.rows {
		return
	}
	b, err := r.in.Peek(1)
	switch {
	// A count that is too high with nothing behind it is a slip of the writer and loses nothing; rows that go on mean
	// that the two files are not of one layer.
	case err != nil || b[0] == fileEnd:
		r.layer.faults.Notice(diag.Fault{File: r.layer.display("dbf"), Kind: "row count",
			What: fmt.Sprintf("its header promises %d rows, but it ends after %d, the last that has a polygon", r.layer.table.rows, r.n)})
	default:
		r.end("rows left over", fmt.Sprintf("the table goes on after row %d, the last that has a polygon (its header promises %d)", r.n, r.layer.table.rows))
	}
}

// end tells that no further row can be given to a polygon.
func (r *rowReader) end(kind, what string) {
	// Once is enough: each polygon after it would say the same.
	r.ended = true
	at := r.layer.table.start + int64(r.n)*int64(r.layer.table.width)
	r.layer.faults.Add(diag.Fault{File: r.layer.display("dbf"), Offset: at, Kind: kind, What: what,
		Fix: "copy the .shp and .dbf again together; they belong to each other row by row"})
}
