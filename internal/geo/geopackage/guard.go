package geopackage

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"modernc.org/sqlite"
)

// Bounds on what one value, one row and one statement may be. The largest polygon of a national survey has some
// megabytes.
const (
	maxValue   = 64 << 20
	maxSQL     = 1 << 20
	maxColumns = 2000
)

// The numbers of the database library's limits. Source: sqlite3.h, SQLITE_LIMIT_….
const (
	limitLength       = 0
	limitSQLLength    = 1
	limitColumn       = 2
	limitAttached     = 7
	limitTriggerDepth = 10
	limitWorkers      = 11
)

// guard bounds a connection, and lets statements do nothing but read tables: what a hostile database has put into its
// schema, views and triggers, is refused when a statement would use it. Functions are let through, since an honest
// database has them as defaults of columns (the time of the day, a random key); the library itself refuses those that
// reach outside, because trusted_schema is off, and what they return counts towards the budget of the pass.
func guard(conn *sql.Conn, size int64) error {
	// No value can be longer than the file that holds it. There are no attached databases and no worker threads.
	for _, l := range []struct{ id, most int }{{limitLength, int(min(maxValue, max(size, 1<<16)))}, {limitSQLLength, maxSQL}, {limitColumn, maxColumns}, {limitAttached, 0}, {limitTriggerDepth, 1}, {limitWorkers, 0}} {
		if _, err := sqlite.Limit(conn, l.id, l.most); err != nil {
			return err
		}
	}
	return conn.Raw(func(driver any) error {
		r, ok := driver.(sqlite.AuthorizerRegisterer)
		if !ok {
			return errors.New("the database library has changed and can no longer be guarded")
		}
		return r.RegisterAuthorizer(onlyReading)
	})
}

// onlyReading is asked by the library for everything that a statement would do, when it is prepared.
func onlyReading(action sqlite.AuthorizerActionCode, first, _, _, within string) sqlite.AuthorizerReturnCode {
	switch {
	case within != "": // inside a view or trigger
		return sqlite.AuthorizerDeny
	case action == sqlite.AuthSelect, action == sqlite.AuthRead, action == sqlite.AuthFunction:
		return sqlite.AuthorizerOK
	// By which describe reads the columns; no other pragma is let through.
	case action == sqlite.AuthPragma && first == "table_xinfo":
		return sqlite.AuthorizerOK
	}
	return sqlite.AuthorizerDeny
}

// Codes of the database library. Source: https://www.sqlite.org/rescode.html.
const (
	codeNoMemory = 7
	codeReadFail = 10
	codeCorrupt  = 11
	codeTooBig   = 18
	codeDenied   = 23
	codeNoDB     = 26
)

// explain puts an error of the database library into words, with the name of the file before it.
func (d *DB) explain(ctx context.Context, err error) error {
	if err == nil {
		return nil
	}
	if ctx.Err() != nil {
		cause := context.Cause(ctx)
		if errors.Is(cause, context.Canceled) || errors.Is(cause, context.DeadlineExceeded) {
			return cause // the caller's own doing
		}
		return fmt.Errorf("%s: %w", d.name, cause)
	}
	// The library turns a failed read into a number of its own, mostly "damaged"; what the disk said is nearer the truth.
	if failed := d.source.failure(); failed != nil {
		return fmt.Errorf("%s: %w", d.name, failed)
	}
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return fmt.Errorf("%s: %w", d.name, err)
	}
	// The low byte is the kind of error, the bytes above say more about it.
	const primary = 0xff
	switch e.Code() & primary {
	case codeCorrupt, codeReadFail:
		return fmt.Errorf("%s: the database is damaged; copy it again, or export it anew", d.name)
	case codeNoDB:
		return fmt.Errorf("%s: is no SQLite database, or is encrypted", d.name)
	case codeTooBig, codeNoMemory:
		return fmt.Errorf("%s: a row is larger than %d MB, or than the file itself; it is damaged or hostile", d.name, maxValue>>20)
	case codeDenied:
		return fmt.Errorf("%s: reading it would run instructions stored in the database, which is not done; export it as a plain table", d.name)
	}
	return fmt.Errorf("%s: %w", d.name, err)
}
