package raster

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/planar"
)

// star makes a polygon around a point with a hole in it, turned either way.
func star(rng *rand.Rand, x, y, size float64) orb.Polygon {
	ring := func(scale float64, n int) orb.Ring {
		var r orb.Ring
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			d := scale * (0.55 + 0.45*rng.Float64())
			r = append(r, orb.Point{x + d*c, y + d*s})
		}
		r = append(r, r[0])
		if rng.IntN(2) == 0 {
			r.Reverse()
		}
		return r
	}
	return orb.Polygon{ring(size, 3+rng.IntN(9)), ring(size/9, 3+rng.IntN(3))}
}

// cellShare is the slow obvious twin: the polygon cut to the cell, by another program's clipping.
func cellShare(f Frame, p orb.Polygon, col, row int) float64 {
	box := orb.Bound{Min: orb.Point{f.X(col), f.Y(row + 1)}, Max: orb.Point{f.X(col + 1), f.Y(row)}}
	area := func(r orb.Ring) float64 { return math.Abs(planar.Area(clip.Ring(box, r.Clone()))) }
	sum := area(p[0])
	for _, h := range p[1:] {
		sum -= area(h)
	}
	return sum / (f.DX * f.DY)
}

// TestCoverageTwin compares shares with clipping, over grids that polygons stick out of on all sides, and in strips.
func TestCoverageTwin(t *testing.T) {
	rng := rand.New(rand.NewPCG(*seed, 3))
	for n := range 500 {
		f := Frame{Cols: 1 + rng.IntN(12), Rows: 1 + rng.IntN(12), West: 423015, North: 1150005, DX: 30, DY: 10 + 20*rng.Float64()}
		b := f.Bound()
		p := star(rng, b.Min[0]+rng.Float64()*(b.Max[0]-b.Min[0]), b.Min[1]+rng.Float64()*(b.Max[1]-b.Min[1]), 20+300*rng.Float64())
		got := map[[2]int]float64{}
		last := -1
		area, err := Coverage(f, orb.MultiPolygon{p}, func(col, row int, share float64) {
			if i := row*f.Cols + col; i <= last {
				t.Fatalf("cell %d after %d", i, last)
			} else {
				last = i
			}
			got[[2]int{col, row}] = share
		})
		if err != nil {
			t.Fatal(err)
		}
		if want := math.Abs(planar.Area(p)) / (f.DX * f.DY); math.Abs(area-want) > 1e-9*want {
			t.Fatalf("-seed %d, case %d: area %v cells, want %v", *seed, n, area, want)
		}
		for row := range f.Rows {
			for col := range f.Cols {
				if want := cellShare(f, p, col, row); math.Abs(got[[2]int{col, row}]-want) > 2e-8 {
					t.Fatalf("-seed %d, case %d: cell %d,%d has share %v, want %v", *seed, n, col, row, got[[2]int{col, row}], want)
				}
			}
		}
	}
}

// TestCoverageStrips: a polygon over more cells than one strip holds has all its area.
func TestCoverageStrips(t *testing.T) {
	f := Frame{Cols: 3000, Rows: 1500, DX: 1, DY: 1, North: 1500}
	p := orb.MultiPolygon{{{{10.5, 3.25}, {2990.25, 100.5}, {2000, 1490.75}, {10.5, 3.25}}}}
	sum, cells := 0.0, 0
	area, err := Coverage(f, p, func(_, _ int, share float64) { sum += share; cells++ })
	if want := planar.Area(p); err != nil || math.Abs(sum-want) > 1e-6*want || math.Abs(area-want) > 1e-9*want || cells < int(want) {
		t.Errorf("%v cells in %d, want %v; %v", sum, cells, want, err)
	}
}

func TestCoverageOdd(t *testing.T) {
	f := Frame{Cols: 3, Rows: 3, DX: 1, DY: 1, North: 3}
	square := func(x0, y0, x1, y1 float64) orb.Ring {
		return orb.Ring{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}
	}
	for name, tc := range map[string]struct {
		mp   orb.MultiPolygon
		want float64 // cells inside the grid
		area float64
	}{
		"the whole grid":    {orb.MultiPolygon{{square(0, 0, 3, 3)}}, 9, 9},
		"far larger":        {orb.MultiPolygon{{square(-1e9, -1e9, 1e9, 1e9)}}, 9, 4e18},
		"beside it":         {orb.MultiPolygon{{square(4, 0, 5, 3)}}, 0, 3},
		"west and across":   {orb.MultiPolygon{{square(-5, 1.25, 0.5, 1.75)}}, 0.25, 2.75},
		"two parts":         {orb.MultiPolygon{{square(0, 0, 1, 1)}, {square(2, 2, 3, 2.5)}}, 1.5, 1.5},
		"unclosed":          {orb.MultiPolygon{{{{0, 0}, {2, 0}, {2, 2}, {0, 2}}}}, 4, 4},
		"nothing":           {nil, 0, 0},
		"a line":            {orb.MultiPolygon{{{{0, 0}, {3, 3}, {0, 0}}}}, 0, 0},
		"on lines of cells": {orb.MultiPolygon{{square(1, 1, 2, 3)}}, 2, 2},
	} {
		sum := 0.0
		area, err := Coverage(f, tc.mp, func(_, _ int, share float64) { sum += share })
		if err != nil || math.Abs(sum-tc.want) > 1e-9 || math.Abs(area-tc.area) > 1e-9*(1+tc.area) {
			t.Errorf("%s: %v cells of %v, want %v of %v; %v", name, sum, area, tc.want, tc.area, err)
		}
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1)} {
		if _, err := Coverage(f, orb.MultiPolygon{{{{0, 0}, {bad, 1}, {1, 1}, {0, 0}}}}, func(_, _ int, _ float64) {}); err == nil {
			t.Errorf("a corner at %v went unnoticed", bad)
		}
	}
}
