package raster

import (
	"context"
	"math"
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/proj"
)

// TestZonal: a square over a quarter of four cells, one of them missing, and out of the grid; reckoned by hand.
func TestZonal(t *testing.T) {
	f := Frame{Cols: 2, Rows: 2, West: 0, North: 2, DX: 1, DY: 1}
	g, err := FromCells(f, []float64{1, 2, 3, math.NaN()}, nil)
	if err != nil || g.Missing() != 1 {
		t.Fatal(err)
	}
	square := func(x0, y0, x1, y1 float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}}}
	}
	s, ok, err := Zonal(g, square(0.5, 0.5, 1.5, 1.5))
	want := Stats{Cells: 3, Ground: 0.75, Missing: 0.25, Mean: 2, Min: 1, Max: 3, Deviation: math.Sqrt(2. / 3)}
	if err != nil || !ok || !near(s, want) {
		t.Errorf("got %+v, want %+v", s, want)
	}
	s, ok, _ = Zonal(g, square(0, 1, 1, 3)) // half of it north of the grid
	if want := (Stats{Cells: 1, Ground: 1, Missing: 0.5, Mean: 1, Min: 1, Max: 1}); !ok || !near(s, want) {
		t.Errorf("got %+v, want %+v", s, want)
	}
	if s, ok, _ := Zonal(g, square(1.1, 0.1, 1.9, 0.9)); ok || s.Missing != 1 {
		t.Errorf("over a missing cell: %+v (%v)", s, ok)
	}
}

func near(a, b Stats) bool {
	if a.Cells != b.Cells {
		return false
	}
	x, y := reflect.ValueOf(a), reflect.ValueOf(b)
	for i := 1; i < x.NumField(); i++ {
		if math.Abs(x.Field(i).Float()-y.Field(i).Float()) > 1e-12 {
			return false
		}
	}
	return true
}

// TestDeviationKeepsDigits: small differences on a large base do not cancel.
func TestDeviationKeepsDigits(t *testing.T) {
	f := Frame{Cols: 2, Rows: 1, North: 1, DX: 1, DY: 1}
	g, _ := FromCells(f, []float64{1e9, 1e9 + 2}, nil)
	s, ok, _ := Zonal(g, orb.MultiPolygon{{{{0, 0}, {2, 0}, {2, 1}, {0, 1}, {0, 0}}}})
	if !ok || s.Mean != 1e9+1 || s.Deviation != 1 {
		t.Errorf("%+v", s)
	}
}

// Six cells: three a, one b, two missing.
func TestKeyShares(t *testing.T) {
	g := drawn(t, "ab.", "aa.")
	shares, missing, err := KeyShares(g, orb.MultiPolygon{{{{100, 198}, {103, 198}, {103, 200}, {100, 200}, {100, 198}}}})
	want := []KeyShare[int64]{{'a', 3, 0.5}, {'b', 1, 1. / 6}}
	if err != nil || !reflect.DeepEqual(shares, want) || math.Abs(missing-1./3) > 1e-12 {
		t.Errorf("got %v, %v missing; want %v", shares, missing, want)
	}
}

// TestSharesAddUp: over the zones of a grid, zonal statistics find exactly the cells of each key.
func TestSharesAddUp(t *testing.T) {
	g := country(200, 150)
	total := 0.0
	for _, z := range outlined(t, g) {
		shares, missing, err := KeyShares(g, z.Shape)
		if err != nil || len(shares) != 1 || shares[0].Key != z.Key || missing != 0 {
			t.Fatalf("key %d: %v, %v missing, %v", z.Key, shares, missing, err)
		}
		total += shares[0].Ground
	}
	if math.Abs(total-200*150) > 1e-6 {
		t.Errorf("zones hold %v cells of 30000", total)
	}
}

func TestResample(t *testing.T) {
	ctx := context.Background()
	f := Frame{Cols: 4, Rows: 3, West: 100, North: 50, DX: 10, DY: 10}
	g, _ := New[float64](f)
	for r := range 3 {
		for c := range 4 {
			g.Set(c, r, float64(3*c+10*r)) // a plane: bilinear must give it back
		}
	}
	fine := Frame{Cols: 12, Rows: 9, West: 105, North: 45, DX: 2.5, DY: 2}
	b, err := Resample(ctx, g, fine, Bilinear)
	if err != nil {
		t.Fatal(err)
	}
	for r := range fine.Rows {
		for c := range fine.Cols {
			p := fine.Center(c, r)
			want := 3*((p[0]-100)/10-0.5) + 10*((50-p[1])/10-0.5)
			if v, ok := b.At(c, r); !ok || math.Abs(v-want) > 1e-9 {
				t.Fatalf("bilinear column %d, row %d: %v (%v), want %v", c, r, v, ok, want)
			}
		}
	}
	g.Unset(0, 0)
	coarse := Frame{Cols: 2, Rows: 2, West: 95, North: 50, DX: 15, DY: 20}
	a, err := Resample(ctx, g, coarse, Average)
	if err != nil {
		t.Fatal(err)
	}
	// First cell: columns 0 whole, rows 0 (missing) and 1: 10. Second: columns 1 and half of 2, rows 0 and 1.
	for i, want := range []float64{10, ((3+13)*1 + (6+16)*0.5) / 3, 20, (23*1 + 26*0.5) / 1.5} {
		if v, ok := a.At(i%2, i/2); !ok || math.Abs(v-want) > 1e-12 {
			t.Errorf("average %d: %v (%v), want %v", i, v, ok, want)
		}
	}
	n, err := Resample(ctx, g, Frame{Cols: 6, Rows: 1, West: 94, North: 50, DX: 10, DY: 30}, Nearest)
	if err != nil {
		t.Fatal(err)
	}
	for c, want := range []float64{-1, 10, 13, 16, 19, -1} {
		if v, ok := n.At(c, 0); ok != (want >= 0) || ok && v != want {
			t.Errorf("nearest %d: %v (%v), want %v", c, v, ok, want)
		}
	}
	keys := drawn(t, "ab")
	if _, err := Resample(ctx, keys, keys.Frame(), Average); err == nil {
		t.Error("keys were averaged")
	}
}

// TestResampleAcross: from one system to another a cell holds what lies under its middle.
func TestResampleAcross(t *testing.T) {
	utm, err := proj.FromEPSG(26915)
	if err != nil {
		t.Fatal(err)
	}
	wgs, _ := proj.FromEPSG(4326)
	f := Frame{Cols: 300, Rows: 300, West: 448500, North: 4651500, DX: 10, DY: 10, CRS: utm}
	g, _ := New[float64](f)
	for r := range 300 {
		for c := range 300 {
			p := f.Center(c, r)
			g.Set(c, r, p[0]+p[1]/7)
		}
	}
	mid, _ := utm.ToLonLat(orb.Point{450000, 4650000})
	to := Frame{Cols: 20, Rows: 20, West: mid[0] - 0.01, North: mid[1] + 0.01, DX: 0.001, DY: 0.001, CRS: wgs}
	b, err := Resample(context.Background(), g, to, Bilinear)
	if err != nil {
		t.Fatal(err)
	}
	for r := range 20 {
		for c := range 20 {
			p, _ := utm.FromLonLat(to.Center(c, r))
			if v, ok := b.At(c, r); !ok || math.Abs(v-(p[0]+p[1]/7)) > 1e-6 {
				t.Fatalf("column %d, row %d: %v (%v), want %v", c, r, v, ok, p[0]+p[1]/7)
			}
		}
	}
	if _, err := Resample(context.Background(), g, to, Average); err == nil {
		t.Error("cells askew were averaged")
	}
}

// An odd size: the last column and row have fewer cells under them.
func TestHalve(t *testing.T) {
	f := Frame{Cols: 3, Rows: 3, North: 3, DX: 1, DY: 1}
	g, _ := FromCells(f, []float64{1, 2, 3, 4, math.NaN(), 6, 7, 8, 9}, nil)
	mean, err := Halve(g, Average)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{7. / 3, 4.5, 7.5, 9} {
		if v, ok := mean.At(i%2, i/2); !ok || v != want {
			t.Errorf("mean %d: %v (%v), want %v", i, v, ok, want)
		}
	}
	near, _ := Halve(g, Nearest)
	for i, want := range []float64{1, 3, 7, 9} {
		if v, ok := near.At(i%2, i/2); !ok || v != want {
			t.Errorf("nearest %d: %v (%v), want %v", i, v, ok, want)
		}
	}
	if h := near.Frame(); h.DX != 2 || h.Cols != 2 || h.West != 0 || h.North != 3 {
		t.Errorf("%+v", h)
	}
}
