package managementzone

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"

	"rootworthy/raster"
)

func frame(cols, rows int, cell float64) raster.Frame {
	return raster.Frame{Cols: cols, Rows: rows, West: 100, North: 900, DX: cell, DY: cell}
}

// draw makes a surface; where ok is false nothing is.
func draw(f raster.Frame, at func(col, row int) (float64, bool)) *raster.Grid[float64] {
	g, err := raster.New[float64](f)
	if err != nil {
		panic(err)
	}
	for row := range f.Rows {
		for col := range f.Cols {
			if v, ok := at(col, row); ok {
				g.Set(col, row, v)
			}
		}
	}
	return g
}

func divide(t *testing.T, g *raster.Grid[float64], o Options) *Split {
	t.Helper()
	s, err := Divide(context.Background(), g, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestDivide(t *testing.T) {
	whole := func(f func(col, row int) float64) func(int, int) (float64, bool) {
		return func(c, r int) (float64, bool) { return f(c, r), true }
	}
	halves := whole(func(c, _ int) float64 { return map[bool]float64{true: 5, false: 6.5}[c < 32] })
	slope := whole(func(c, _ int) float64 { return float64(c) })
	noise := rand.New(rand.NewPCG(1, 2))
	for name, c := range map[string]struct {
		at    func(int, int) (float64, bool)
		o     Options
		means []float64
		share float64 // explained at least
	}{
		"two halves":               {halves, Options{Width: 20}, []float64{5, 6.5}, 1},
		"one zone asked for":       {halves, Options{Most: 1}, []float64{5.7}, 0},
		"a step that is too far":   {halves, Options{Width: 20, LeastStep: 2}, []float64{5.7}, 0},
		"all the same":             {whole(func(int, int) float64 { return 6 }), Options{Width: 20}, []float64{6}, 1},
		"an even slope in two":     {slope, Options{Width: 20, Most: 2}, []float64{13.5, 43.5}, 0.74},
		"in three":                 {slope, Options{Width: 20}, []float64{9.5, 29.5, 49.5}, 0.88},
		"a fourth is not worth it": {slope, Options{Width: 20, Most: 6, LeastGain: 0.06}, []float64{9.5, 29.5, 49.5}, 0.88},
		"specks are not followed": {func(c, r int) (float64, bool) {
			if v, _ := halves(c, r); noise.IntN(40) > 0 {
				return v, true
			}
			return 9, true
		}, Options{Width: 20, Most: 2}, []float64{5.1, 6.56}, 0.5},
		"nothing there": {func(int, int) (float64, bool) { return 0, false }, Options{}, nil, 1},
	} {
		s := divide(t, draw(frame(60, 40, 5), c.at), c.o)
		if len(s.Zones) != len(c.means) || s.Explained < c.share-1e-9 || s.Explained > 1 {
			t.Errorf("%s: %+v, explained %v", name, s.Zones, s.Explained)
			continue
		}
		for i, z := range s.Zones {
			if math.Abs(z.Mean-c.means[i]) > 0.06 || z.Label != int32(i)+1 || z.Least > z.Mean || z.Most < z.Mean {
				t.Errorf("%s: zone %+v, want mean %v", name, z, c.means[i])
			}
		}
	}
}

// rugged makes a surface of hills and noise on ground of ragged outline, from a seed.
func rugged(seed uint64, cols, rows int, cell float64) *raster.Grid[float64] {
	r := rand.New(rand.NewPCG(seed, 9))
	a, b, n := 2+6*r.Float64(), 2+6*r.Float64(), r.Float64()
	return draw(frame(cols, rows, cell), func(c, row int) (float64, bool) {
		x, y := float64(c)/float64(cols), float64(row)/float64(rows)
		v := 6 + math.Sin(a*x*3)*math.Cos(b*y*2) + n*r.NormFloat64()
		return v, math.Hypot(x-0.5, y-0.5) < 0.35+0.12*math.Sin(5*math.Atan2(y-0.5, x-0.5)) || r.IntN(50) == 0 && x < 0.1
	})
}

// What must hold whatever the surface: all cells have a zone, no other has; zones are of whole blocks but for the scraps of the edge; no patch is
// too small unless it touches nothing; means rise by the step; areas and masses add up; shapes have the cells' area.
func TestZonesCanBeFollowed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := rugged(rapid.Uint64().Draw(t, "seed"), rapid.IntRange(5, 70).Draw(t, "cols"), rapid.IntRange(5, 70).Draw(t, "rows"), 5)
		o := Options{
			Most: rapid.IntRange(1, 6).Draw(t, "most"), Width: rapid.Float64Range(0, 40).Draw(t, "width"),
			LeastStep: rapid.Float64Range(0, 0.5).Draw(t, "step"), LeastArea: rapid.Float64Range(0, 4000).Draw(t, "area"),
		}
		s, err := Divide(context.Background(), g, o)
		if err != nil {
			t.Fatal(err)
		}
		f := g.Frame()
		cells, total := 0, 0.0
		for row := range f.Rows {
			for col := range f.Cols {
				v, want := g.At(col, row)
				total += v // 0 where missing
				l, got := s.Labels.At(col, row)
				if want != got || got && (l < 1 || int(l) > len(s.Zones)) {
					t.Fatalf("cell %d, %d: label %d, %v", col, row, l, got)
				}
				if got {
					cells++
				}
			}
		}
		sum, mass := 0, 0.0
		for i, z := range s.Zones {
			sum, mass = sum+z.Cells, mass+z.Mean*z.Area
			if i > 0 && z.Mean-s.Zones[i-1].Mean < o.LeastStep {
				t.Fatalf("means %v and %v", s.Zones[i-1].Mean, z.Mean)
			}
		}
		if sum != cells || len(s.Zones) > o.Most || s.Width < o.Width {
			t.Fatalf("%d of %d cells in %d zones of width %v", sum, cells, len(s.Zones), s.Width)
		}
		if want := total * f.DX * f.DY; math.Abs(mass-want) > 1e-9*math.Max(1, math.Abs(want)) { // of a rate: what is spread is the same
			t.Fatalf("zones hold %v, the cells %v", mass, want)
		}
		wholeBlocks(t, g, s)
		shapes, err := s.Shapes(context.Background())
		if err != nil || len(shapes) != len(s.Zones) {
			t.Fatalf("%d shapes, %v", len(shapes), err)
		}
		for i, shape := range shapes {
			if a := planar.Area(shape.Shape); shape.Key != s.Zones[i].Label || math.Abs(a-s.Zones[i].Area) > 1e-6 {
				t.Fatalf("shape %d of %v, zone of %v", shape.Key, a, s.Zones[i].Area)
			}
		}
	})
}

// wholeBlocks looks at each block of the width: all its cells have one label.
func wholeBlocks(t *rapid.T, g *raster.Grid[float64], s *Split) {
	f := g.Frame()
	w := whole(s.Width/f.DX, f.Cols)
	h := whole(s.Width/f.DY, f.Rows)
	for row := 0; row < f.Rows; row += h {
		for col := 0; col < f.Cols; col += w {
			var found []int32
			for r := row; r < min(row+h, f.Rows); r++ {
				for c := col; c < min(col+w, f.Cols); c++ {
					if l, ok := s.Labels.At(c, r); ok && !slices.Contains(found, l) {
						found = append(found, l)
					}
				}
			}
			if len(found) > 1 {
				t.Fatalf("the block at %d, %d of %d × %d cells has labels %v", col, row, w, h, found)
			}
		}
	}
}

// After cleaning a patch under the least area touches no other ground.
func TestSmallPatchesAreIslands(t *testing.T) {
	for seed := range uint64(20) {
		b := cut(rugged(seed, 60, 60, 5), 15)
		b.label(part(b.units, Options{Most: 4, LeastGain: 0.01}))
		before, _ := b.patches()
		b.clean(40)
		after, of := b.patches()
		for _, p := range after {
			if p.cells < 40 && b.likest(&p, after, of) >= 0 {
				t.Errorf("seed %d: a patch of %d cells has a neighbour", seed, p.cells)
			}
		}
		if len(after) > len(before) {
			t.Errorf("seed %d: %d patches became %d", seed, len(before), len(after))
		}
	}
}

// The parting is the best of all: a slow twin tries every pair of ends.
func TestPartIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(0, 10), 3, 25).Draw(t, "values")
		units := make([]unit, len(values))
		for i, v := range values {
			units[i] = unit{sum: v, cells: 1}
		}
		ends := part(units, Options{Most: 3, LeastGain: 1e-9})
		cost := func(ends []float64) float64 {
			total := 0.0
			for i := range ends {
				var in []float64
				for _, v := range values {
					if v <= ends[i] && (i == 0 || v > ends[i-1]) {
						in = append(in, v)
					}
				}
				mean := 0.0
				for _, v := range in {
					mean += v / float64(len(in))
				}
				for _, v := range in {
					total += (v - mean) * (v - mean)
				}
			}
			return total
		}
		got := cost(ends)
		for _, a := range values {
			for _, b := range values {
				if a < b {
					if c := cost([]float64{a, b, math.Inf(1)}); c < got-1e-6 {
						t.Fatalf("ends %v cost %v; %v and %v cost %v", ends, got, a, b, c)
					}
				}
			}
		}
	})
}

func TestRefusedOptions(t *testing.T) {
	g := rugged(1, 10, 10, 5)
	for _, o := range []Options{{Most: -1}, {Most: 21}, {Width: -1}, {Width: math.NaN()}, {Width: math.Inf(1)}, {LeastArea: -1}, {LeastStep: math.NaN()}, {LeastGain: -1}} {
		if _, err := Divide(context.Background(), g, o); err == nil {
			t.Errorf("%+v passed", o)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Divide(ctx, g, Options{}); err != context.Canceled {
		t.Errorf("cancelled: %v", err)
	}
}

func BenchmarkMillionCells(b *testing.B) {
	g := rugged(3, 1000, 1000, 5)
	for range b.N {
		if _, err := Divide(context.Background(), g, Options{Width: 20}); err != nil {
			b.Fatal(err)
		}
	}
}
