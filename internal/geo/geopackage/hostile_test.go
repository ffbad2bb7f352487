package geopackage

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

// script returns a database made by the statements, with pages of 4096 bytes.
func script(t testing.TB, statements ...string) []byte {
	t.Helper()
	file := filepath.Join(t.TempDir(), "made.db")
	db, err := sql.Open("sqlite", "file:"+file+"?_pragma=synchronous(0)")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range statements {
		if _, err := db.Exec(s); err != nil {
			t.Fatalf("%s: %v", s, err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// readEverything opens the database and reads all layers and tables, and returns the first error.
func readEverything(ctx context.Context, b []byte, faults *diag.List) error {
	db, err := Open(ctx, "f.gpkg", bytes.NewReader(b), int64(len(b)), faults)
	if err != nil {
		return err
	}
	defer db.Close()
	layers, err := db.Layers(ctx)
	for _, l := range layers {
		err = errors.Join(err, l.Features(ctx, func(feature.Feature) error { return nil }))
	}
	for _, t := range db.Tables() {
		err = errors.Join(err, t.Rows(ctx, nil, func(*Row) error { return nil }))
	}
	return err
}

// TestCutAnywhere: a file that ends too early is never read as a whole one.
func TestCutAnywhere(t *testing.T) {
	b := made(t, zones())
	for _, n := range []int{0, 1, 15, 16, 99, 100, 511, 512, 4095, 4096, 10_000, len(b) / 2, len(b) - 1} {
		faults := &diag.List{}
		err := readEverything(t.Context(), b[:n], faults)
		if err == nil || strings.Contains(err.Error(), "\n") || !strings.HasPrefix(err.Error(), "f.gpkg: is ") {
			t.Errorf("%d of %d bytes: %v", n, len(b), err)
		}
	}
}

// TestNothingOfTheirsIsRun: views, virtual tables, computed columns, triggers.
func TestNothingOfTheirsIsRun(t *testing.T) {
	b := script(t,
		`CREATE TABLE gpkg_geometry_columns (table_name TEXT, column_name TEXT, geometry_type_name TEXT, srs_id INTEGER)`,
		`CREATE TABLE good (fid INTEGER PRIMARY KEY, geom BLOB, a TEXT, twice TEXT AS (a || a), b TEXT DEFAULT (hex(randomblob(8))))`,
		`CREATE INDEX sly ON good (upper(a))`,
		`INSERT INTO good (geom, a) VALUES (NULL, 'x')`,
		`CREATE VIEW endless AS WITH RECURSIVE n(fid) AS (SELECT 1 UNION ALL SELECT fid+1 FROM n) SELECT fid, NULL AS geom FROM n`,
		`CREATE VIRTUAL TABLE tree USING rtree(id, x0, x1, y0, y1)`,
		`CREATE TRIGGER bad AFTER INSERT ON good BEGIN DELETE FROM good; END`,
		`INSERT INTO gpkg_geometry_columns VALUES ('endless','geom','POLYGON',4326), ('tree','x0','POLYGON',4326), ('good','geom','POLYGON',0)`)
	db, faults := open(t, b)
	for _, tc := range []struct{ layer, want string }{
		{"endless", "f.gpkg: layer endless is a view, which is not read"},
		{"tree", "f.gpkg: layer tree is a virtual table, which is not read"},
	} {
		if _, err := db.Layer(t.Context(), tc.layer); err == nil || !strings.HasPrefix(err.Error(), tc.want) {
			t.Errorf("%s: %v", tc.layer, err)
		}
	}
	l, fs := readLayer(t, db, "good")
	if len(fs) != 1 || len(l.Columns) != 2 || fs[0].Text("a") != "x" || len(fs[0].Text("b")) != 16 {
		t.Errorf("%v %v", l.Columns, show(fs))
	}
	if !strings.Contains(faults.String(), "good.twice: the column is computed, not stored, and is left out") {
		t.Errorf("said %v", faults)
	}
	if _, err := db.conn.ExecContext(t.Context(), `DELETE FROM good`); err == nil {
		t.Error("the database can be written")
	}
	for _, q := range []string{`ATTACH 'x.db' AS x`, `PRAGMA query_only=0`, `SELECT load_extension('x')`, `SELECT * FROM endless`, `WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i+1 FROM n) SELECT i FROM n`} {
		if _, err := db.conn.QueryContext(t.Context(), q); err == nil {
			t.Errorf("%s is run", q)
		}
	}
}

// inner overwrites page n (from 1) with an inner page of a table all of whose children are the same page.
func inner(b []byte, n int, child uint32) {
	page := b[(n-1)*4096 : n*4096]
	clear(page)
	const cells = 500
	page[0] = pageInner
	binary.BigEndian.PutUint16(page[3:], cells)
	binary.BigEndian.PutUint32(page[8:], child)
	at := 4096
	for i := range cells {
		at -= 5
		binary.BigEndian.PutUint32(page[at:], child)
		page[at+4] = 1
		binary.BigEndian.PutUint16(page[12+2*i:], uint16(at))
	}
	binary.BigEndian.PutUint16(page[5:], uint16(at))
}

// TestPagesThatLeadInCircles: pages that are reached many times give no more rows than the file has room for.
func TestPagesThatLeadInCircles(t *testing.T) {
	b := script(t, `CREATE TABLE t2 (a)`, `CREATE TABLE t3 (a)`, `CREATE TABLE t4 (a)`, `CREATE TABLE t5 (a)`, `INSERT INTO t5 VALUES (1), (2)`)
	inner(b, 2, 3)
	inner(b, 3, 4)
	inner(b, 4, 5)
	db, faults := open(t, b)
	table, _ := db.Table("t2")
	n := 0
	if err := table.Rows(t.Context(), nil, func(*Row) error { n++; return nil }); err != nil {
		t.Fatal(err)
	}
	if n > len(b)/4+16 || !strings.Contains(faults.String(), "more than its file has room for") {
		t.Errorf("%d rows of 250 million, %v", n, faults)
	}
	list := bytes.Clone(b)
	copy(list[100:], list[4096:4096+12]) // the list of tables becomes an inner page whose children are page 3
	for i := range 100 {
		binary.BigEndian.PutUint16(list[112+2*i:], 4000)
	}
	if err := readEverything(t.Context(), list, &diag.List{}); err == nil || err.Error() != "f.gpkg: its list of tables is damaged; copy it again, or export it anew" {
		t.Errorf("list of tables in circles: %v", err)
	}
}

// failing is a disk that stops working after some bytes.
type failing struct {
	*bytes.Reader
	after int64
}

func (f failing) ReadAt(p []byte, off int64) (int, error) {
	if off >= f.after {
		return 0, errors.New("input/output error")
	}
	return f.Reader.ReadAt(p, off)
}

// The library turns them into "damaged"; the user must hear of the disk.
func TestDiskErrorsAreNamed(t *testing.T) {
	b := made(t, zones())
	for _, after := range []int64{0, 4096, 20_000} {
		db, err := Open(t.Context(), "f.gpkg", failing{bytes.NewReader(b), after}, int64(len(b)), &diag.List{})
		if err == nil {
			for _, table := range db.Tables() {
				err = errors.Join(err, table.Rows(t.Context(), nil, func(*Row) error { return nil }))
			}
			db.Close()
		}
		if err == nil || !strings.Contains(err.Error(), "f.gpkg: ") || !strings.Contains(err.Error(), "input/output error") {
			t.Errorf("after %d: %v", after, err)
		}
	}
}

func TestCancelled(t *testing.T) {
	b := made(t, zones())
	ctx, cancel := context.WithCancel(t.Context())
	db, _ := open(t, b)
	l, err := db.Layer(ctx, "")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	err = l.Features(ctx, func(feature.Feature) error { n++; cancel(); return nil })
	if !errors.Is(err, context.Canceled) || n != 1 {
		t.Errorf("%d features, %v", n, err)
	}
	if err := Write(ctx, io.Discard, []Content{zones()}, changed()); !errors.Is(err, context.Canceled) {
		t.Errorf("writing: %v", err)
	}
	stop := errors.New("enough")
	if err := l.Features(t.Context(), func(feature.Feature) error { return stop }); err != stop {
		t.Errorf("the caller's error: %v", err)
	}
}

// TestOddShapes: each is told once with its reason, and its attributes stay.
func TestOddShapes(t *testing.T) {
	var values []string
	shapes := []struct{ hex, want string }{
		{"47500001E6100000010600000000000000", "its geometry is empty"},
		{"47500011E6100000", "its geometry is empty"},
		{"47500021E6100000", "it is of an extended geometry type"},
		{"47500101E6100000", "its geometry is of version 1"},
		{"4750000BE6100000", "its geometry has an envelope of kind 5"},
		{"47500003E6100000", "the geometry breaks off in its envelope"},
		{"475000", "the geometry breaks off in its header"},
		{"47500001E61000000101000000000000000000F03F000000000000F03F", "it is a Point, not a polygon"},
		{"47500001E6100000010A00000001000000", "it is a CurvePolygon, which is not read"},
		{"", "its geometry is empty"},
	}
	for i, s := range shapes {
		values = append(values, fmt.Sprintf("(%d, x'%s', 'n%d')", i+1, s.hex, i))
	}
	db, faults := open(t, script(t,
		`CREATE TABLE geometry_columns (f_table_name TEXT, f_geometry_column TEXT, srid INTEGER)`, `INSERT INTO geometry_columns VALUES ('T', 'GEOM', 7)`,
		`CREATE TABLE t (fid INTEGER PRIMARY KEY, geom, name)`, `INSERT INTO t VALUES `+strings.Join(values, ",")+`, (99, 'text', 'last')`))
	l, fs := readLayer(t, db, "")
	if len(fs) != len(shapes)+1 || faults.Faults() != len(fs) {
		t.Fatalf("%d features, %v", len(fs), faults)
	}
	for i, s := range shapes {
		if !strings.HasPrefix(fs[i].Reason, s.want) || fs[i].Text("name") != fmt.Sprintf("n%d", i) || len(fs[i].Geometry) > 0 {
			t.Errorf("%s: %+v, want %s", s.hex, fs[i], s.want)
		}
	}
	if last := fs[len(shapes)]; last.Reason != "its geometry is no binary value" || last.ID != "99" {
		t.Errorf("text as geometry: %+v", last)
	}
	if _, ok, err := l.CRS(); ok || err == nil || err.Error() != "layer t: its reference system 7 is not described in the database; name it with --crs EPSG:n" {
		t.Errorf("system: %v %v", ok, err)
	}
}
