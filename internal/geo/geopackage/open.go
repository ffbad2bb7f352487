package geopackage

import (
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"time"

	"modernc.org/sqlite/vfs"

	"rootworthy/internal/diag"
)

// DB is a database opened for reading. It is used by one goroutine at a time.
type DB struct {
	name   string
	faults *diag.List
	source *source
	files  *vfs.FS
	pool   *sql.DB
	conn   *sql.Conn
	tables []*Table // that can be read, in the order they were made
	others []other  // that cannot
}

// other is something in the database that looks like a table and is not read.
type other struct{ name, kind string }

// patience bounds the reading of the list of tables, which the database library does in one go.
const patience = 30 * time.Second

// Open opens the database of size bytes in r. Name is what the user called it; it stands in messages. The error says in
// one sentence why it is no database that can be read. r must stay open until [DB.Close].
func Open(ctx context.Context, name string, r io.ReaderAt, size int64, faults *diag.List) (*DB, error) {
	d := &DB{name: name, faults: faults, source: &source{r: r, size: size}}
	if err := d.checkHeader(); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	// Even checked lists can be long; the user should hear of it rather than wait.
	ctx, cancel := context.WithTimeoutCause(ctx, patience, errors.New("its list of tables takes too long to read; it is damaged or hostile"))
	defer cancel()
	if err := d.connect(ctx); err != nil {
		err = d.explain(ctx, err)
		return nil, errors.Join(err, d.Close())
	}
	return d, nil
}

// connect opens the one connection, guards it, and reads the list of tables. What it opened before an error is closed by
// Close.
func (d *DB) connect(ctx context.Context) error {
	id, files, err := vfs.New(d.source)
	if err != nil {
		return err
	}
	d.files = files
	// immutable: there is no journal to look for; mode=ro and query_only: nothing is written, whatever a query says.
	d.pool, err = sql.Open("sqlite", "file:"+fileName+"?vfs="+id+"&mode=ro&immutable=1&_defensive=1&_pragma=trusted_schema(0)&_pragma=query_only(1)&_pragma=cell_size_check(1)&_pragma=temp_store(2)")
	if err != nil {
		return err
	}
	// Limits and the guard belong to a connection, so a second one would be without them.
	d.pool.SetMaxOpenConns(1)
	if d.conn, err = d.pool.Conn(ctx); err != nil {
		return err
	}
	if err := guard(d.conn, d.source.size); err != nil {
		return err
	}
	return d.list(ctx)
}

// Close frees what the database holds.
func (d *DB) Close() error {
	var errs []error
	if d.conn != nil {
		errs = append(errs, d.conn.Close())
	}
	if d.pool != nil {
		errs = append(errs, d.pool.Close())
	}
	if d.files != nil {
		errs = append(errs, d.files.Close())
	}
	d.conn, d.pool, d.files = nil, nil, nil
	return errors.Join(errs...)
}

// Name returns what the user called the database.
func (d *DB) Name() string { return d.name }

// checkHeader looks at the first bytes before the database library does, to say what is wrong in the trade's words.
//
// Source: https://www.sqlite.org/fileformat2.html, section 1.3.
func (d *DB) checkHeader() error {
	head := make([]byte, 100)
	n, err := d.source.r.ReadAt(head, 0)
	switch {
	case d.source.size == 0:
		return errors.New("is empty")
	case n < 16 && err != nil && err != io.EOF:
		return err
	case n < 16 || string(head[:16]) != "SQLite format 3\x00":
		return errors.New("is no SQLite database, or is encrypted")
	case n < len(head) || d.source.size < 512:
		return errors.New("is cut off: it ends within its header; copy it again")
	}
	const wal = 2
	// Bytes 18 and 19: version for writing and for reading, 2 with a write-ahead log.
	if head[18] == wal || head[19] == wal {
		d.faults.Notice(diag.Fault{File: d.name, Kind: "write-ahead log", What: "changes may still stand in a file beside it that ends in -wal, which is not read",
			Fix: "open and close it once in the program that made it"})
	}
	pageSize := int64(binary.BigEndian.Uint16(head[16:]))
	if pageSize == 1 { // does not fit two bytes
		pageSize = 65536
	}
	if pageSize < 512 || pageSize&(pageSize-1) != 0 {
		return fmt.Errorf("is damaged: its pages would have %d bytes; copy it again", pageSize)
	}
	// Bytes 24 to 27 are the change counter, 92 to 95 what it was when the number of pages was written: only programs that
	// keep both up can be believed.
	pages := int64(binary.BigEndian.Uint32(head[28:]))
	if d.source.size < pages*pageSize && string(head[24:28]) == string(head[92:96]) { // else the count is not kept up
		return fmt.Errorf("is cut off: it has %d bytes of %d; copy it again", d.source.size, pages*pageSize)
	}
	return checkList(d.source.r, d.source.size, pageSize)
}
