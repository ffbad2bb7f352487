package shapefile

import (
	"bytes"
	"iter"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// row is one record to write in a test.
type row struct {
	shape  orb.MultiPolygon
	values []any
}

func rowsOf(rs []row) Rows {
	return iter.Seq2[orb.MultiPolygon, []any](func(yield func(orb.MultiPolygon, []any) bool) {
		for _, r := range rs {
			if !yield(r.shape, r.values) {
				return
			}
		}
	})
}

// write returns the five files of a layer called base.
func write(t testing.TB, base string, cols []Column, rs []row) fstest.MapFS {
	t.Helper()
	enc, err := NewEncoder(cols, rowsOf(rs))
	if err != nil {
		t.Fatal(err)
	}
	files := fstest.MapFS{}
	for ext, fill := range enc.Files() {
		var b bytes.Buffer
		if err := fill(&b); err != nil {
			t.Fatalf("%s: %v", ext, err)
		}
		files[base+ext] = &fstest.MapFile{Data: b.Bytes()}
	}
	return files
}

// kept is what a test holds of a record.
type kept struct {
	index  int
	shape  orb.MultiPolygon
	values []string
}

func readAll(t testing.TB, files fstest.MapFS, shp string) ([]kept, *diag.List, error) {
	t.Helper()
	faults := &diag.List{}
	l, err := Open(shp, files, shp, faults)
	if err != nil {
		return nil, faults, err
	}
	var out []kept
	err = l.Polygons(func(i int, shape orb.MultiPolygon, rec *Record) error {
		k := kept{index: i, shape: shape}
		for c := range l.Columns {
			k.values = append(k.values, string(rec.JSON(c)))
		}
		out = append(out, k)
		return nil
	})
	return out, faults, err
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

// two is a small layer of two records and five columns.
func two() ([]Column, []row) {
	cols := []Column{{Name: "name", Type: 'C'}, {Name: "ph", Type: 'N', Decimals: 2}, {Name: "cuts", Type: 'N'},
		{Name: "sown", Type: 'D'}, {Name: "drained", Type: 'L'}}
	return cols, []row{
		{orb.MultiPolygon{{square(0, 0, 10), reversed(square(2, 2, 3))}, {square(20, 0, 5)}}, []any{"Été & fils", 6.5, 4, "2024-09-15", true}},
		{orb.MultiPolygon{{square(-5, -5, 2)}}, []any{"B", nil, nil, nil, nil}},
	}
}
