package raster

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

func TestFrameCheck(t *testing.T) {
	good := Frame{Cols: 3, Rows: 2, West: 500000, North: 4000000, DX: 10, DY: 10}
	if err := good.Check(); err != nil {
		t.Error(err)
	}
	for name, f := range map[string]Frame{
		"no columns":   {Cols: 0, Rows: 2, DX: 1, DY: 1},
		"endless":      {Cols: 1 << 31, Rows: 1, DX: 1, DY: 1},
		"upside down":  {Cols: 3, Rows: 2, DX: 1, DY: -1},
		"not a number": {Cols: 3, Rows: 2, West: math.NaN(), DX: 1, DY: 1},
		"no size":      {Cols: 3, Rows: 2, DX: math.NaN(), DY: 1},
		"overflow":     {Cols: 3, Rows: 2, DX: math.MaxFloat64, DY: 1},
		"too small":    {Cols: 3, Rows: 2, West: 1e17, DX: 1, DY: 1},
	} {
		if err := f.Check(); err == nil {
			t.Errorf("%s: taken", name)
		}
		if _, err := New[float64](f); err == nil {
			t.Errorf("%s: a grid was made", name)
		}
	}
	wide := Frame{Cols: 460000, Rows: 290000, DX: 10, DY: 10} // a country at 10 m: a frame, but no grid
	if err := wide.Check(); err != nil {
		t.Error(err)
	}
	if _, err := New[uint8](wide); err == nil || !strings.Contains(err.Error(), "window") {
		t.Errorf("133 billion cells were to be held: %v", err)
	}
}

func TestCovering(t *testing.T) {
	f := Frame{Cols: 10, Rows: 8, West: 100, North: 80, DX: 10, DY: 10}
	box := func(x0, y0, x1, y1 float64) orb.Bound {
		return orb.Bound{Min: orb.Point{x0, y0}, Max: orb.Point{x1, y1}}
	}
	for _, tc := range []struct {
		b    orb.Bound
		want Window
	}{
		{box(110, 60, 130, 70), Window{1, 1, 2, 1}}, // on lines
		{box(111, 61, 129, 69), Window{1, 1, 2, 1}},
		{box(109, 59, 131, 71), Window{0, 0, 4, 3}},
		{box(-1e9, -1e9, 1e9, 1e9), Window{0, 0, 10, 8}},
		{box(-1e300, -1e300, 1e300, 1e300), Window{0, 0, 10, 8}},
		{box(300, 0, 400, 80), Window{}},
		{box(0, 0, 50, 80), Window{}},
		{box(math.NaN(), 0, 110, 80), Window{}},
	} {
		if got := f.Covering(tc.b); got != tc.want {
			t.Errorf("%v: %+v, want %+v", tc.b, got, tc.want)
		}
	}
	for _, w := range []Window{{}, {0, 0, 11, 1}, {-1, 0, 2, 2}, {9, 7, 2, 1}, {1 << 62, 0, 1 << 62, 1}} {
		if f.Within(w) == nil {
			t.Errorf("%+v lies in 10 × 8 cells", w)
		}
	}
}

// A line between cells belongs to the cell east or south of it, so the east and south edges to none.
func TestLocate(t *testing.T) {
	f := Frame{Cols: 2, Rows: 2, West: 0, North: 2, DX: 1, DY: 1}
	for _, tc := range []struct {
		p        orb.Point
		col, row int
		ok       bool
	}{
		{orb.Point{0, 2}, 0, 0, true}, {orb.Point{1, 1}, 1, 1, true}, {orb.Point{1.999, 0.001}, 1, 1, true},
		{orb.Point{2, 1}, 0, 0, false}, {orb.Point{1, 0}, 0, 0, false}, {orb.Point{-1e-9, 1}, 0, 0, false}, {orb.Point{math.NaN(), 1}, 0, 0, false},
	} {
		if c, r, ok := f.Locate(tc.p); c != tc.col || r != tc.row || ok != tc.ok {
			t.Errorf("%v in %d,%d (%v), want %d,%d (%v)", tc.p, c, r, ok, tc.col, tc.row, tc.ok)
		}
	}
}

// TestMissing: what is missing is never a zero, nor a NaN.
func TestMissing(t *testing.T) {
	f := Frame{Cols: 3, Rows: 2, North: 2, DX: 1, DY: 1}
	g, err := FromCells(f, []float32{0, float32(math.NaN()), float32(math.Inf(-1)), 3, 4, 5}, []bool{false, false, false, true, false, false})
	if err != nil {
		t.Fatal(err)
	}
	if g.Missing() != 3 {
		t.Errorf("%d missing, want 3", g.Missing())
	}
	if v, ok := g.At(0, 0); !ok || v != 0 {
		t.Error("0 went missing")
	}
	if v, ok := g.At(0, 1); ok || v != 0 {
		t.Errorf("a missing cell holds %v", v)
	}
	g.Set(0, 0, float32(math.NaN()))
	g.Set(0, 1, 7)
	g.Unset(2, 1)
	if _, ok := g.At(0, 0); ok || g.Missing() != 4 {
		t.Errorf("%d missing, want 4", g.Missing())
	}
	if v, ok := g.Value(orb.Point{0.5, 0.5}); !ok || v != 7 {
		t.Errorf("value %v (%v), want 7", v, ok)
	}
	if least, most, ok := g.Range(); !ok || least != 4 || most != 7 {
		t.Errorf("range %v to %v", least, most)
	}
	cut, err := g.Cut(Window{1, 0, 2, 2})
	if err != nil || cut.Missing() != 3 || cut.Frame().West != 1 {
		t.Errorf("cut %+v, %v", cut, err)
	}
	if whole, err := cut.Cut(Window{0, 1, 1, 1}); err != nil || whole.Missing() != 0 {
		t.Errorf("a cut without missing cells has %d; %v", whole.Missing(), err)
	}
	if _, err := g.Cut(Window{2, 0, 2, 2}); err == nil {
		t.Error("a window beyond the edge was cut")
	}
	if _, err := FromCells(f, []float32{1}, nil); err == nil {
		t.Error("one value filled six cells")
	}
	empty, _ := New[int64](f)
	if _, _, ok := empty.Range(); ok || empty.Missing() != 6 {
		t.Error("a new grid holds something")
	}
}

// Keys that were stored as floats: a fraction is no key, nor is what an int64 cannot hold.
func TestMapAndWhole(t *testing.T) {
	f := Frame{Cols: 4, Rows: 1, North: 1, DX: 1, DY: 1}
	g, _ := FromCells(f, []float64{188674, 1.5, 1e300, -3}, nil)
	keys := Map(g, Whole[float64])
	for c, want := range []int64{188674, -1, -1, -3} {
		if v, ok := keys.At(c, 0); ok != (want != -1) || ok && v != want {
			t.Errorf("cell %d: %v (%v), want %v", c, v, ok, want)
		}
	}
	if _, ok := Whole(float64(1 << 63)); ok {
		t.Error("2^63 fits an int64")
	}
	if v, ok := Whole(float64(-1 << 63)); !ok || v != math.MinInt64 {
		t.Error("-2^63 does not fit an int64")
	}
}
