package geopackage

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"iter"
	"strings"
	"time"

	"github.com/paulmach/orb"
	"modernc.org/sqlite"

	"rootworthy/internal/geo/feature"
)

// Content is one layer to write: polygons, or points where Points is given. Coordinates are longitude and latitude on
// WGS 84.
type Content struct {
	Name    string // of the table: letters, digits and underlines
	Title   string // for people; empty means the name. No two contents may have the same
	About   string // a sentence for people; may be empty
	Columns []feature.Column
	Rows    feature.Rows
	Points  iter.Seq2[orb.Point, []any] // instead of Rows; [NoPlace] for a row without a point
}

// pageSize is fixed, so that equal rows give equal bytes.
const pageSize = 4096

// Write writes a GeoPackage 1.3 of the layers. Each has a key fid, counted from 1, a column geom, a spatial index, and
// its columns under their own names. Changed is the time stamp of all layers. The error names layer, row and column
// that cannot be written.
//
// The whole file is made in memory and takes about twice its size there.
func Write(ctx context.Context, w io.Writer, layers []Content, changed time.Time) error {
	if err := checkContents(layers); err != nil {
		return err
	}
	// The memory is a file to the database library, so that VACUUM brings its pages into one order.
	pool, err := sql.Open("sqlite", "file:made?vfs=memdb&_pragma=page_size("+fmt.Sprint(pageSize)+")&_pragma=journal_mode(MEMORY)&_pragma=temp_store(2)")
	if err != nil {
		return err
	}
	defer pool.Close()
	conn, err := pool.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	m := &maker{ctx: ctx, conn: conn, changed: changed.UTC().Format("2006-01-02T15:04:05.000Z")}
	if err := m.make(layers); err != nil {
		return err
	}
	// The driver hands the whole database out as bytes; there is no file on any disk.
	var file []byte
	err = conn.Raw(func(driver any) error {
		s, ok := driver.(interface{ Serialize() ([]byte, error) })
		if !ok {
			return errors.New("the database library has changed and no longer hands out what it made")
		}
		file, err = s.Serialize()
		return err
	})
	if err != nil {
		return err
	}
	_, err = w.Write(file)
	return err
}

// checkContents names the first layer that cannot be written.
func checkContents(layers []Content) error {
	if len(layers) == 0 {
		return errors.New("a GeoPackage needs at least one layer")
	}
	names, titles := map[string]bool{}, map[string]bool{}
	for _, l := range layers {
		// Together with the two columns that every layer has, so that a column called fid or geom is refused.
		err := feature.CheckColumns(append([]feature.Column{{Name: keyColumn}, {Name: shapeColumn}}, l.Columns...))
		name, title := strings.ToLower(l.Name), l.title()
		switch {
		case err != nil:
			return fmt.Errorf("layer %s: %w", l.Name, err)
		case !plain(l.Name) || strings.HasPrefix(name, "gpkg_") || strings.HasPrefix(name, "rtree_") || strings.HasPrefix(name, "sqlite_"):
			return fmt.Errorf("layer name %q: it takes letters, digits and underlines, a letter first, and must not begin with gpkg_, rtree_ or sqlite_", l.Name)
		// Titles as well: gpkg_contents asks for unlike identifiers.
		case names[name] || titles[title]:
			return fmt.Errorf("layer %s: its name or title stands twice", l.Name)
		case (l.Rows == nil) == (l.Points == nil):
			return fmt.Errorf("layer %s: needs either polygons or points", l.Name)
		}
		names[name], titles[title] = true, true
	}
	return nil
}

func (l Content) title() string {
	if l.Title == "" {
		return l.Name
	}
	return l.Title
}

// plain tells whether a name needs no quotes anywhere.
func plain(s string) bool {
	for i, r := range s {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		if !letter && (i == 0 || r != '_' && (r < '0' || r > '9')) {
			return false
		}
	}
	return s != ""
}

// maker fills one database.
// changed is the one time stamp, as text; nothing in the file comes from the clock.
type maker struct {
	ctx     context.Context
	conn    *sql.Conn
	changed string
}

func (m *maker) exec(statement string, values ...any) error {
	_, err := m.conn.ExecContext(m.ctx, statement, values...)
	return m.explain(err)
}

// explain keeps the cause why the work was given up.
func (m *maker) explain(err error) error {
	if err != nil && m.ctx.Err() != nil {
		return context.Cause(m.ctx)
	}
	var e *sqlite.Error
	if errors.As(err, &e) && e.Code() == codeFull {
		return errors.New("the file would be larger than what can be made in memory; split it")
	}
	return err
}

// codeFull is SQLITE_FULL, see guard.go: here the limit of a database in memory.
const codeFull = 13

// make fills the database: the head tables first, which the layers are entered in.
func (m *maker) make(layers []Content) error {
	// One transaction: a commit for every row would take most of the time.
	if err := m.exec("BEGIN"); err != nil {
		return err
	}
	if err := m.exec(headSchema); err != nil {
		return err
	}
	for _, s := range systemsToWrite() {
		if err := m.exec(`INSERT INTO gpkg_spatial_ref_sys VALUES (?,?,?,?,?,?)`, s[:]...); err != nil {
			return err
		}
	}
	for _, l := range layers {
		if err := m.layer(l); err != nil {
			return err
		}
	}
	if err := m.exec("COMMIT"); err != nil {
		return err
	}
	// Pages come into one order that depends on the rows alone.
	return m.exec("VACUUM")
}
