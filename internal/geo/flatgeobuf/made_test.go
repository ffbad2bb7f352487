package flatgeobuf

import (
	"bytes"
	"fmt"
	"sort"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

// row is one record to write in a test.
type row struct {
	shape  orb.MultiPolygon
	values []any
}

func rowsOf(rs []row) feature.Rows {
	return func(yield func(orb.MultiPolygon, []any) bool) {
		for _, r := range rs {
			if !yield(r.shape, r.values) {
				return
			}
		}
	}
}

func square(x, y, size float64) orb.Ring {
	return orb.Ring{{x, y}, {x + size, y}, {x + size, y + size}, {x, y + size}, {x, y}}
}

func reversed(r orb.Ring) orb.Ring {
	r = r.Clone()
	r.Reverse()
	return r
}

func zoneColumns() []feature.Column {
	return []feature.Column{{Name: "zone_id", Title: "Zone"}, {Name: "cuts", Type: feature.Integer}, {Name: "ph", Type: feature.Real}, {Name: "drained", Type: feature.Bool}, {Name: "sown", Type: feature.Date}}
}

// zones is a small layer with every type of column, missing values, a hole and two parts.
func zones() Content {
	return Content{Name: "zones", Title: "Zones of the farm", About: "as rated", Columns: zoneColumns(), Rows: rowsOf([]row{
		{orb.MultiPolygon{{square(-86, 38, 1./64), reversed(square(-86+1./256, 38+1./256, 1./256))}, {square(-85.5, 38, 1./64)}}, []any{"Été & \"fils\"", -4, 6.5, true, "2024-09-15"}},
		{orb.MultiPolygon{{square(-85.75, 38.125, 1./64)}}, []any{"=cmd", nil, nil, false, nil}},
		{orb.MultiPolygon{{square(-85.25, 38.5, 1./64)}}, []any{nil, nil, 0.0, nil, nil}},
	})}
}

// grid is a layer of n × n squares.
func grid(n int) Content {
	return Content{Name: "grid", Columns: []feature.Column{{Name: "i", Type: feature.Integer}}, Rows: func(yield func(orb.MultiPolygon, []any) bool) {
		for i := range n * n {
			if !yield(orb.MultiPolygon{{square(-90+float64(i%n)/64, 38+float64(i/n)/64, 1./128)}}, []any{i}) {
				return
			}
		}
	}}
}

func made(t testing.TB, c Content) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func readAll(b []byte) (*Layer, []feature.Feature, *diag.List, error) {
	faults := &diag.List{}
	l, err := Open("f.fgb", bytes.NewReader(b), faults)
	if err != nil {
		return nil, nil, faults, err
	}
	var out []feature.Feature
	err = l.Features(func(f feature.Feature) error { out = append(out, f); return nil })
	return l, out, faults, err
}

// show prints features, whatever their order, for comparison.
func show(fs []feature.Feature) (out []string) {
	for _, f := range fs {
		s := fmt.Sprint(f.Geometry)
		for _, p := range f.Properties {
			s += " " + p.Name + "=" + string(p.Value)
		}
		out = append(out, s)
	}
	sort.Strings(out)
	return out
}
