package geopackage

import (
	"bytes"
	"fmt"
	"iter"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

// changed is the time stamp of files made in tests.
func changed() time.Time { return time.Date(2024, 9, 15, 12, 0, 0, 0, time.UTC) }

// row is one record to write in a test.
type row struct {
	shape  orb.MultiPolygon
	values []any
}

func rowsOf(rs []row) feature.Rows {
	return iter.Seq2[orb.MultiPolygon, []any](func(yield func(orb.MultiPolygon, []any) bool) {
		for _, r := range rs {
			if !yield(r.shape, r.values) {
				return
			}
		}
	})
}

// square returns a counter-clockwise ring.
func square(x, y, size float64) orb.Ring {
	return orb.Ring{{x, y}, {x + size, y}, {x + size, y + size}, {x, y + size}, {x, y}}
}

func reversed(r orb.Ring) orb.Ring {
	r = r.Clone()
	r.Reverse()
	return r
}

// zones is a small layer with every type of column, missing values, a hole, two parts, and a row without a shape.
func zones() Content {
	return Content{
		Name: "zones", Title: "Zones of the farm", About: "as rated",
		Columns: []feature.Column{{Name: "zone_id"}, {Name: "cuts", Type: feature.Integer}, {Name: "ph", Type: feature.Real}, {Name: "drained", Type: feature.Bool}, {Name: "sown", Type: feature.Date}},
		Rows: rowsOf([]row{
			{orb.MultiPolygon{{square(-86, 38, 1./64), reversed(square(-86+1./256, 38+1./256, 1./256))}, {square(-85.5, 38, 1./64)}}, []any{"Été & \"fils\"", 4, 6.5, true, "2024-09-15"}},
			{orb.MultiPolygon{{square(-85.75, 38.125, 1./64)}}, []any{"=cmd", nil, nil, false, nil}},
			{nil, []any{"no shape", nil, 0.0, nil, nil}},
		}),
	}
}

// samples is a small layer of points.
func samples() Content {
	return Content{Name: "samples", Columns: []feature.Column{{Name: "ph", Type: feature.Real}}, Points: func(yield func(orb.Point, []any) bool) {
		_ = yield(orb.Point{-86, 38}, []any{5.5}) && yield(orb.Point{-85.9, 38.1}, []any{nil})
	}}
}

func made(t testing.TB, layers ...Content) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(t.Context(), &b, layers, changed()); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func open(t testing.TB, b []byte) (*DB, *diag.List) {
	t.Helper()
	faults := &diag.List{}
	db, err := Open(t.Context(), "f.gpkg", bytes.NewReader(b), int64(len(b)), faults)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return db, faults
}

// readLayer returns the features of a layer.
func readLayer(t testing.TB, db *DB, name string) (*Layer, []feature.Feature) {
	t.Helper()
	l, err := db.Layer(t.Context(), name)
	if err != nil {
		t.Fatal(err)
	}
	var out []feature.Feature
	if err := l.Features(t.Context(), func(f feature.Feature) error { out = append(out, f); return nil }); err != nil {
		t.Fatal(err)
	}
	return l, out
}

// show prints features for comparison.
func show(fs []feature.Feature) (out []string) {
	for _, f := range fs {
		s := fmt.Sprintf("%d %s %v", f.Index, f.ID, f.Geometry)
		for _, p := range f.Properties {
			s += " " + p.Name + "=" + string(p.Value)
		}
		out = append(out, s)
	}
	return out
}
