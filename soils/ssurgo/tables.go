package ssurgo

import (
	"context"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
)

// Source is where the rows of a survey's tables come from when they are no text files: a database, which has the
// tables under their survey names.
type Source interface {
	// Place names a table in messages, such as "survey.gpkg, table component".
	Place(table string) string
	// Columns returns the names of a table's columns in small letters; ok is false when there is no such table.
	Columns(table string) (names []string, ok bool)
	// Rows calls each for every row with the values of these columns as text, empty where null. The values are valid
	// during the call. The error is of the context or of a database that cannot be read.
	Rows(ctx context.Context, table string, columns []string, each func(values []string) error) error
}

// Map is where the polygons of a survey come from when they do not lie in the export: a layer of a database, a file of
// polygons, a raster.
type Map interface {
	// Polygons calls emit for every polygon and stops at its first error.
	Polygons(ctx context.Context, emit func(Polygon) error) error
}

// New puts tables and a map together into an export; either may be nil. Part says that the map is cut out of a survey
// area, as an area of interest is.
func New(name string, tables Source, polygons Map, part bool, faults *diag.List) *Export {
	// tabular "." makes join name the export itself in messages
	a := &area{export: name, source: tables, chart: polygons, tabular: ".", part: part, faults: faults, interned: map[string]string{}}
	return &Export{Name: name, areas: []*area{a}, faults: faults}
}

// AddMap gives an export that has tables alone, such as one of a folder without spatial, polygons from elsewhere.
func (e *Export) AddMap(polygons Map) {
	e.areas = append(e.areas, New(e.Name, nil, polygons, true, e.faults).areas...)
}

// WithoutMap returns the export with its tables alone.
func (e *Export) WithoutMap() *Export {
	out := &Export{Name: e.Name, faults: e.faults}
	for _, a := range e.areas {
		// a copy, so that the export that was given keeps its map
		b := *a
		b.layers, b.chart, b.bare = nil, nil, true
		out.areas = append(out.areas, &b)
	}
	return out
}

// readSource is [area.read] for a table of a database.
func (a *area) readSource(ctx context.Context, l *layout, each func(*record)) error {
	have, ok := a.source.Columns(l.table)
	name := a.source.Place(l.table)
	if !ok {
		return fmt.Errorf("%s: %w", name, fs.ErrNotExist)
	}
	t := &table{area: a, layout: l, name: name, columns: map[string]int{}}
	var columns []string
	// only what is there is asked for: databases refuse a query for a column that they lack
	for _, c := range sortedKeys(l.columns) {
		if slices.Contains(have, c) {
			t.columns[c] = len(columns)
			columns = append(columns, c)
			continue
		}
		f := diag.Fault{File: name, Field: c, Kind: "column absent", What: "the table does not have this column", Fix: "it is taken as not recorded"}
		if strings.HasSuffix(c, "key") {
			f.Fix = "its rows cannot be joined; take a fresh copy of the survey"
			a.faults.Add(f)
			continue
		}
		a.faults.Notice(f)
	}
	return a.source.Rows(ctx, l.table, columns, func(values []string) error {
		t.count++
		t.rec = record{table: t, fields: values, line: t.count}
		each(&t.rec)
		return nil
	})
}

// denoised takes the noise of single precision off a number: databases that keep 2.12 in four bytes give 2.1199999. The
// survey's own figures have no more than seven digits; a longer one is the shortest that the same four bytes hold.
func denoised(s string) string {
	const most = 7 // digits that single precision keeps
	digits := 0
	for _, r := range s {
		if r >= '0' && r <= '9' && (digits > 0 || r != '0') {
			digits++
		}
	}
	// as written, digits and all
	if digits <= most {
		return s
	}
	// rounds to what four bytes hold, and the print below is the shortest number that rounds to the same
	v, err := strconv.ParseFloat(s, 32)
	if err != nil {
		return s
	}
	return strconv.FormatFloat(v, 'g', -1, 32)
}
