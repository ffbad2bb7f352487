package flatgeobuf

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"rootworthy/internal/geo/feature"
)

// In the order of the index, which is not that of the rows.
func TestRoundTrip(t *testing.T) {
	l, got, faults, err := readAll(made(t, zones()))
	want := []string{
		`[[[[-85.25 38.5] [-85.234375 38.5] [-85.234375 38.515625] [-85.25 38.515625] [-85.25 38.5]]]] zone_id=null cuts=null ph=0 drained=null sown=null`,
		`[[[[-85.75 38.125] [-85.734375 38.125] [-85.734375 38.140625] [-85.75 38.140625] [-85.75 38.125]]]] zone_id="=cmd" cuts=null ph=null drained=false sown=null`,
		`[[[[-86 38] [-85.984375 38] [-85.984375 38.015625] [-86 38.015625] [-86 38]] [[-85.99609375 38.00390625] [-85.99609375 38.0078125] [-85.9921875 38.0078125] [-85.9921875 38.00390625] [-85.99609375 38.00390625]]] [[[-85.5 38] [-85.484375 38] [-85.484375 38.015625] [-85.5 38.015625] [-85.5 38]]]] zone_id="Été & \"fils\"" cuts=-4 ph=6.5 drained=true sown="2024-09-15"`,
	}
	if err != nil || len(faults.Kept()) > 0 || !reflect.DeepEqual(show(got), want) {
		t.Fatalf("%v %v\n%s\nwant\n%s", err, faults, strings.Join(show(got), "\n"), strings.Join(want, "\n"))
	}
	if l.Name != "zones" || l.Title != "Zones of the farm" || l.Count != 3 || len(l.Columns) != 5 {
		t.Errorf("layer %+v", l)
	}
	if crs, ok, err := l.CRS(); err != nil || !ok || crs.String() != "EPSG:4326" {
		t.Errorf("system %v %v %v", crs, ok, err)
	}
}

func TestSameBytes(t *testing.T) {
	if a, b := made(t, grid(20)), made(t, grid(20)); !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
}

// TestAnyRowsComeBack: shapes and values of each type, missing ones, any text, rows without a shape, no columns.
func TestAnyRowsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cols := zoneColumns()[:rapid.IntRange(0, 4).Draw(t, "columns")]
		ring := func() orb.Ring {
			return square(rapid.Float64Range(-170, 170).Draw(t, "x"), rapid.Float64Range(-80, 80).Draw(t, "y"), rapid.Float64Range(1e-3, 9).Draw(t, "size"))
		}
		var rs []row
		for range rapid.IntRange(0, 40).Draw(t, "rows") {
			var r row
			for range rapid.IntRange(0, 3).Draw(t, "parts") {
				part := orb.Polygon{ring()}
				for range rapid.IntRange(0, 2).Draw(t, "holes") {
					part = append(part, reversed(ring()))
				}
				r.shape = append(r.shape, part)
			}
			all := []any{rapid.String().Draw(t, "t"), rapid.Int64().Draw(t, "i"), rapid.Float64().Draw(t, "r") + 0, rapid.Bool().Draw(t, "b")}
			for i := range cols {
				if rapid.Bool().Draw(t, "missing") {
					all[i] = nil
				}
			}
			r.values = all[:len(cols)]
			rs = append(rs, r)
		}
		var b bytes.Buffer
		if err := Write(&b, Content{Columns: cols, Rows: rowsOf(rs)}); err != nil {
			t.Fatal(err)
		}
		_, got, _, err := readAll(b.Bytes())
		var want []feature.Feature
		for _, r := range rs {
			f := feature.Feature{Geometry: r.shape}
			for i, c := range cols {
				f.Properties = append(f.Properties, feature.Property{Name: c.Name, Value: feature.JSON(r.values[i])})
			}
			want = append(want, f)
		}
		if err != nil || !reflect.DeepEqual(show(got), show(want)) {
			t.Fatalf("%v\n%q\nwant\n%q", err, show(got), show(want))
		}
	})
}

// search reads the file as a program does that fetches a window: through the index, following byte offsets.
func search(t *testing.T, b []byte, window orb.Bound) (found int) {
	t.Helper()
	head := int(binary.LittleEndian.Uint32(b[8:]))
	h, _ := rootTable(b[12 : 12+head])
	n := int(h.uint64(headerCount))
	tree := b[12+head:]
	features := tree[nodesOf(n, nodeSize)*nodeBytes:]
	first := nodesOf(n, nodeSize) - n // leaf
	at := func(i int) (orb.Bound, int) {
		c := tree[i*nodeBytes:]
		return orb.Bound{Min: orb.Point{float(c), float(c[8:])}, Max: orb.Point{float(c[16:]), float(c[24:])}}, int(binary.LittleEndian.Uint64(c[32:]))
	}
	var walk func(i int)
	walk = func(i int) {
		box, off := at(i)
		if !box.Intersects(window) {
			return
		}
		if i >= first {
			size := int(binary.LittleEndian.Uint32(features[off:]))
			one, ok := rootTable(features[off+4 : off+4+size])
			s := shaper{points: 1e6, parts: 1e6}
			g, has := one.table(featureGeometry)
			if !ok || !has || !s.add(g, kindUnknown, 0) || !s.shape.Bound().Intersects(window) {
				t.Fatalf("leaf %d leads to a feature that is not in its box", i)
			}
			found++
			return
		}
		for k := off; k < off+nodeSize && k < nodesOf(n, nodeSize); k++ {
			if child, _ := at(k); box.Union(child) != box {
				break // the next level or the next parent's
			}
			walk(k)
		}
	}
	walk(0)
	return found
}

// TestWindows: searching through the index finds what a look at every feature finds.
func TestWindows(t *testing.T) {
	for _, n := range []int{1, 3, 4, 5, 17, 40} {
		b := made(t, grid(n))
		_, all, _, err := readAll(b)
		if err != nil || len(all) != n*n {
			t.Fatal(len(all), err)
		}
		for i := range 30 {
			x, y := -90+float64(i%6)*float64(n)/64/6, 38+float64(i/6)*float64(n)/64/5
			window := orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x + .05, y + .03}}
			want := 0
			for _, f := range all {
				if f.Geometry.Bound().Intersects(window) {
					want++
				}
			}
			if got := search(t, b, window); got < want {
				t.Errorf("%d × %d: the index finds %d in %v, there are %d", n, n, got, window, want)
			}
		}
	}
}

// TestHilbertCurve: every step along the curve is a step to a neighbour, and no cell comes twice.
func TestHilbertCurve(t *testing.T) {
	const n = 64
	at := map[uint32][2]int{}
	for x := range n {
		for y := range n {
			at[hilbert(uint32(x), uint32(y))] = [2]int{x, y}
		}
	}
	for d := uint32(1); d < n*n; d++ {
		a, okA := at[d-1]
		b, okB := at[d]
		dx, dy := a[0]-b[0], a[1]-b[1]
		if !okA || !okB || dx*dx+dy*dy != 1 {
			t.Fatalf("step %d goes from %v to %v", d, a, b)
		}
	}
	if hilbert(0, 0) != 0 || hilbert(65535, 0) != 1<<32-1 {
		t.Errorf("the curve runs from %d to %d", hilbert(0, 0), hilbert(65535, 0))
	}
}

func TestWhatCannotBeWritten(t *testing.T) {
	cols := []feature.Column{{Name: "a"}}
	for name, tc := range map[string]struct {
		c    Content
		want string
	}{
		"columns": {Content{Columns: []feature.Column{{Name: "a"}, {Name: "A"}}, Rows: rowsOf(nil)}, `column name "A" stands twice`},
		"value":   {Content{Columns: cols, Rows: rowsOf([]row{{nil, []any{"x"}}, {nil, []any{1}}})}, "row 2: column a: 1 is no text"},
		"ring":    {Content{Columns: cols, Rows: rowsOf([]row{{orb.MultiPolygon{{{{0, 0}}}}, []any{"x"}}})}, "row 1: a ring has 1 points"},
	} {
		var b bytes.Buffer
		if err := Write(&b, tc.c); err == nil || !strings.HasPrefix(err.Error(), tc.want) || b.Len() > 0 {
			t.Errorf("%s: got %v and %d bytes, want %s", name, err, b.Len(), tc.want)
		}
	}
	if err := Write(full{}, zones()); err == nil || err.Error() != "disk full" {
		t.Errorf("got %v", err)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

// Features that are made again from their rows give the file that kept ones give; rows that change in between are found out.
func TestFeaturesMadeAgain(t *testing.T) {
	var shapes []orb.MultiPolygon
	r := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		x, y := -91+r.Float64(), 33+r.Float64()
		shapes = append(shapes, orb.MultiPolygon{{{{x, y}, {x + 0.01, y}, {x, y + 0.01}, {x, y}}}})
	}
	columns := []feature.Column{{Name: "id", Type: feature.Integer}, {Name: "name"}}
	at := func(i int) (orb.MultiPolygon, []any) { return shapes[i], []any{i, fmt.Sprint("zone ", i)} }
	c := Content{Name: "zones", Columns: columns, Rows: func(yield func(orb.MultiPolygon, []any) bool) {
		for i := range shapes {
			if !yield(at(i)) {
				return
			}
		}
	}}
	var kept, again bytes.Buffer
	if err := Write(&kept, c); err != nil {
		t.Fatal(err)
	}
	c.At = at
	if err := Write(&again, c); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(kept.Bytes(), again.Bytes()) {
		t.Error("features made again give another file")
	}
	c.At = func(i int) (orb.MultiPolygon, []any) {
		return shapes[i], []any{i, "a much longer name than it had before"}
	}
	if err := Write(io.Discard, c); err == nil || !strings.Contains(err.Error(), "when it was measured") {
		t.Errorf("rows that change: error %v", err)
	}
}
