package soilmap_test

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	_ "modernc.org/sqlite" // the database library, to write with

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/geopackage"
	"rootworthy/soils/ssurgo"
)

// export is a real survey export taken apart, to be put together in other forms.
type export struct {
	tables    map[string][][]string // by name of the table; the first row is the columns
	polygons  []ssurgo.Polygon
	shapefile string
}

// tableFiles are the tables that are read, and their files.
var tableFiles = map[string]string{"legend": "legend", "sacatalog": "sacatlog", "mapunit": "mapunit", "component": "comp", "chorizon": "chorizon",
	"corestrictions": "crstrcts", "comonth": "cmonth", "cosoilmoist": "csmoist", "chtexturegrp": "chtexgrp", "chtexture": "chtextur"}

// readExport reads the tables with their columns by mstabcol, and the polygons.
func readExport(t *testing.T, dir string) *export {
	t.Helper()
	x := &export{tables: map[string][][]string{}}
	columns := map[string][]string{}
	for _, r := range readTable(t, filepath.Join(dir, "tabular", "mstabcol.txt")) {
		columns[r[0]] = append(columns[r[0]], r[2])
	}
	for table, file := range tableFiles {
		x.tables[table] = append([][]string{columns[table]}, readTable(t, filepath.Join(dir, "tabular", file+".txt"))...)
	}
	found, err := filepath.Glob(filepath.Join(dir, "spatial", "soilmu_a_*.shp"))
	if err != nil || len(found) != 1 {
		t.Fatal(found, err)
	}
	x.shapefile = found[0]
	e, err := ssurgo.Open(context.Background(), dir, os.DirFS(dir), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	if err := e.Polygons(context.Background(), func(p ssurgo.Polygon) error { x.polygons = append(x.polygons, p); return nil }); err != nil {
		t.Fatal(err)
	}
	return x
}

func readTable(t *testing.T, path string) [][]string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(bytes.NewReader(b))
	r.Comma, r.FieldsPerRecord = '|', -1
	records, err := r.ReadAll()
	if err != nil {
		t.Fatal(path, err)
	}
	return records
}

func writeTable(records [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma = '|'
	w.WriteAll(records)
	return b.Bytes()
}

var polygonColumns = []feature.Column{{Name: "areasymbol"}, {Name: "spatialver", Type: feature.Integer}, {Name: "musym"}, {Name: "mukey"}}

func (x *export) rows() feature.Rows {
	return func(yield func(orb.MultiPolygon, []any) bool) {
		for _, p := range x.polygons {
			if !yield(p.Shape, []any{p.Area, int64(1), "x", p.Unit}) {
				return
			}
		}
	}
}

func (x *export) geoJSON() []byte {
	var features []any
	for _, p := range x.polygons {
		n, _ := strconv.ParseFloat(p.Unit, 64) // a key that somebody stored as a number
		features = append(features, map[string]any{"type": "Feature", "properties": map[string]any{"MUKEY": n, "AREASYMBOL": p.Area},
			"geometry": map[string]any{"type": "MultiPolygon", "coordinates": p.Shape}})
	}
	b, _ := json.Marshal(map[string]any{"type": "FeatureCollection", "features": features})
	return b
}

func (x *export) writeGeoPackage(t *testing.T, path, layer string) {
	t.Helper()
	var b bytes.Buffer
	err := geopackage.Write(context.Background(), &b, []geopackage.Content{{Name: layer, Columns: polygonColumns, Rows: x.rows()}}, time.Date(2026, 1, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// How values are stored.
func asText(column, s string) any { return s }

func asNumbers(column, s string) any {
	if v, err := strconv.ParseFloat(s, 64); err == nil && !strings.HasSuffix(column, "key") && column != "musym" && column != "compname" {
		return v
	}
	return s
}

// asSingles stores numbers as a database of single precision gives them back: 2.12 as 2.119999885559082.
func asSingles(column, s string) any {
	if v, ok := asNumbers(column, s).(float64); ok {
		return float64(float32(v))
	}
	return s
}

// addTables adds the tables to a database, which is made when there is none.
func (x *export) addTables(t *testing.T, path string, spell func(string) string, stored func(column, s string) any) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	tx, err := db.Begin()
	if err != nil {
		t.Fatal(err)
	}
	for table, rows := range x.tables {
		marks := strings.TrimSuffix(strings.Repeat("?,", len(rows[0])), ",")
		if _, err := tx.Exec(fmt.Sprintf("CREATE TABLE %s (%s)", spell(table), spell(strings.Join(rows[0], ",")))); err != nil {
			t.Fatal(err)
		}
		insert, err := tx.Prepare(fmt.Sprintf("INSERT INTO %s VALUES (%s)", spell(table), marks))
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rows[1:] {
			values := make([]any, len(r))
			for i, s := range r {
				if s != "" {
					values[i] = stored(rows[0][i], s)
				}
			}
			if _, err := insert.Exec(values...); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := tx.Commit(); err != nil {
		t.Fatal(err)
	}
}
