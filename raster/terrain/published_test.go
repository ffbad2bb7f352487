package terrain

import (
	"context"
	"math"
	"testing"

	"rootworthy/internal/geo/proj"
	"rootworthy/raster"
)

// utm is a system in metres; the cells lie on no ground that matters.
func utm(t testing.TB) proj.CRS {
	t.Helper()
	crs, err := proj.FromEPSG(26915)
	if err != nil {
		t.Fatal(err)
	}
	return crs
}

// heights makes a grid of cells of a size in metres; NaN is missing.
func heights(t testing.TB, cell float64, rows ...[]float64) *raster.Grid[float64] {
	t.Helper()
	f := raster.Frame{Cols: len(rows[0]), Rows: len(rows), West: 500000, North: 4000000, DX: cell, DY: cell, CRS: utm(t)}
	var cells []float64
	for _, r := range rows {
		cells = append(cells, r...)
	}
	g, err := raster.FromCells(f, cells, nil)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func must[T any](t testing.TB) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// TestPublishedSlope: the worked example of Esri's "How slope works" (read as copied in comments of open code): cells of 5 m,
// dz/dx 0.05, dz/dy -3.8, 75.25762 degrees, rounded on its way (rise over run 3.80032); 380.0329 % computed from it.
func TestPublishedSlope(t *testing.T) {
	z := heights(t, 5, []float64{50, 45, 50}, []float64{30, 30, 30}, []float64{8, 10, 10})
	s := must[*raster.Grid[float64]](t)(Slope(context.Background(), z, Ground{}))
	v, ok := s.At(1, 1)
	if deg := math.Atan(v/100) * 180 / math.Pi; !ok || math.Abs(deg-75.25762) > 1e-4 || math.Abs(v-380.0329) > 0.5e-4 {
		t.Errorf("slope %v %% (%v degrees), want 380.0329 %% (75.25762)", v, deg)
	}
	if s.Missing() != 8 {
		t.Errorf("%d cells missing, want the eight at the edge", s.Missing())
	}
	var n neighbourhood[float64]
	for r := range 3 {
		n.values[r], _ = z.Row(r)
	}
	if dzdx, dzdy := n.gradient(1); math.Abs(dzdx/40-0.05) > 1e-12 || math.Abs(dzdy/40+3.8) > 1e-12 {
		t.Errorf("gradients %v, %v, want 0.05, -3.8", dzdx/40, dzdy/40)
	}
}

// TestPublishedAspect: the worked example of Esri's "How aspect works" (read as above): 92.64 degrees; its gradients are
// -8.125 and -0.375 to a cell.
func TestPublishedAspect(t *testing.T) {
	z := heights(t, 5, []float64{101, 92, 85}, []float64{101, 92, 85}, []float64{101, 91, 84})
	if v, ok := must[*raster.Grid[float64]](t)(Aspect(context.Background(), z, Ground{})).At(1, 1); !ok || math.Abs(v-92.64) > 0.005 {
		t.Errorf("aspect %v (%v), want 92.64", v, ok)
	}
}

// TestAspectRound: a plane that falls in any direction has that aspect, by the rule of the sheet as a second way to it
// (a < 0 → 90 - a; a > 90 → 450 - a; else 90 - a). Level ground has none.
func TestAspectRound(t *testing.T) {
	for deg := 0.0; deg < 360; deg += 7.5 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		z := plane(t, 3, 3, func(x, y float64) float64 { return -0.1 * (x*sin + y*cos) })
		got, ok := must[*raster.Grid[float64]](t)(Aspect(context.Background(), z, Ground{})).At(1, 1)
		if d := math.Abs(math.Remainder(got-deg, 360)); !ok || d > 1e-9 || got < 0 || got >= 360 {
			t.Errorf("aspect %v (%v), want %v", got, ok, deg)
		}
		dzdx, dzdy := -0.1*sin, 0.1*cos // towards the south
		a := math.Atan2(dzdy, -dzdx) * 57.29578
		switch {
		case a > 90:
			a = 450 - a
		default:
			a = 90 - a
		}
		if math.Abs(math.Remainder(got-a, 360)) > 1e-4 {
			t.Errorf("aspect %v, by the published rule %v", got, a)
		}
	}
	level := plane(t, 3, 3, func(x, y float64) float64 { return 12 })
	if _, ok := must[*raster.Grid[float64]](t)(Aspect(context.Background(), level, Ground{})).At(1, 1); ok {
		t.Error("level ground has an aspect")
	}
	if v, ok := must[*raster.Grid[float64]](t)(Slope(context.Background(), level, Ground{})).At(1, 1); !ok || v != 0 {
		t.Errorf("level ground slopes by %v (%v)", v, ok)
	}
}

// plane makes heights of a function of metres east and north of the south-west corner, cells of 10 m.
func plane(t testing.TB, cols, rows int, h func(x, y float64) float64) *raster.Grid[float64] {
	t.Helper()
	g := make([][]float64, rows)
	for r := range g {
		for c := range cols {
			g[r] = append(g[r], h(10*float64(c)+5, 10*float64(rows-r)-5))
		}
	}
	return heights(t, 10, g...)
}

// TestUnits: feet of height, feet of way, degrees of way all come to the same slope of 10 %.
func TestUnits(t *testing.T) {
	slope := func(f raster.Frame, rise float64, g Ground) float64 {
		cells := make([]float64, 9)
		for i := range cells {
			cells[i] = rise * float64(i%3)
		}
		f.Cols, f.Rows = 3, 3
		z := must[*raster.Grid[float64]](t)(raster.FromCells(f, cells, nil))
		v, _ := must[*raster.Grid[float64]](t)(Slope(context.Background(), z, g)).At(1, 1)
		return v
	}
	feet, err := proj.FromEPSG(2263) // New York Long Island, US survey feet
	if err != nil {
		t.Fatal(err)
	}
	wgs, _ := proj.FromEPSG(4326)
	const ft = 1200. / 3937
	metres := raster.Frame{West: 5e5, North: 4e6, DX: 20, DY: 30, CRS: utm(t)}
	// At 45 degrees north one degree of longitude has 78,846.8 m and one of latitude 111,131.7 m on WGS 84 (from memory of
	// published tables, not checked; the slope along a row needs the former only).
	for name, got := range map[string]float64{
		"metres":         slope(metres, 2, Ground{}),
		"height in feet": slope(metres, 2/0.3048, Ground{HeightMetres: 0.3048}),
		"way in feet":    slope(raster.Frame{West: 1e6, North: 2e5, DX: 20 / ft, DY: 20 / ft, CRS: feet}, 2, Ground{}),
		"unknown, told":  slope(raster.Frame{West: 0, North: 0, DX: 20, DY: 20}, 2, Ground{CellMetres: 1}),
		"degrees":        slope(raster.Frame{West: -90, North: 45 + 1.5e-4, DX: 1e-4, DY: 1e-4, CRS: wgs}, 0.788468, Ground{}),
	} {
		if math.Abs(got-10) > 1e-5 {
			t.Errorf("%s: slope %v %%, want 10", name, got)
		}
	}
	lost := must[*raster.Grid[float64]](t)(raster.New[float64](raster.Frame{Cols: 3, Rows: 3, DX: 1, DY: 1}))
	if _, err := Slope(context.Background(), lost, Ground{}); err == nil {
		t.Error("cells without a size were taken")
	}
}
