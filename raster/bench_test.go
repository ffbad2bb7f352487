package raster

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// country makes a grid of keys with borders like those of soils: bands that wander, with islands.
func country(cols, rows int) *Grid[uint32] {
	f := Frame{Cols: cols, Rows: rows, West: 400000, North: 1200000, DX: 10, DY: 10}
	cells := make([]uint32, cols*rows)
	for r := range rows {
		for c := range cols {
			x, y := float64(c)/40, float64(r)/40
			v := x/3 + math.Sin(y) + math.Sin(x+2*y)/2 + 2*math.Sin(x/4)*math.Sin(y/3)
			island := math.Sin(3*x)*math.Sin(2.7*y) > 0.93
			cells[r*cols+c] = uint32(180000 + 4*int(v+10))
			if island {
				cells[r*cols+c]++
			}
		}
	}
	g, _ := FromCells(f, cells, nil)
	return g
}

func BenchmarkPolygonise(b *testing.B) {
	for _, size := range [][2]int{{298, 234}, {1000, 1000}, {5000, 5000}} {
		g := country(size[0], size[1])
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			b.ReportAllocs()
			polygons := 0
			for b.Loop() {
				zones, err := Polygonise(context.Background(), g, OutlineOptions{})
				if err != nil {
					b.Fatal(err)
				}
				polygons = 0
				for _, z := range zones {
					polygons += len(z.Shape)
				}
			}
			b.ReportMetric(float64(polygons), "polygons")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(size[0]*size[1]), "ns/cell")
		})
	}
}

// BenchmarkZonal sums 800 × 800 m, 80 × 80 cells, over a field of 200 corners.
func BenchmarkZonal(b *testing.B) {
	g := Map(country(2000, 2000), func(k uint32) (float64, bool) { return float64(k % 97), true })
	var ring orb.Ring
	for i := range 200 {
		s, c := math.Sincos(float64(i) / 200 * 2 * math.Pi)
		ring = append(ring, orb.Point{410000 + 400*c, 1190000 + 400*s})
	}
	field := orb.MultiPolygon{{append(ring, ring[0])}}
	for b.Loop() {
		if _, ok, err := Zonal(g, field); !ok || err != nil {
			b.Fatal(ok, err)
		}
	}
}
