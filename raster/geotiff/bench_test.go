package geotiff

import (
	"bytes"
	"context"
	"math"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/raster"
)

// large is a COG of 10,000 × 10,000 float32 heights, of which one tile in four is drawn and the others repeat it.
func large(b *testing.B) []byte {
	const side = 10000
	cells := make([]float32, side*side)
	for r := range side {
		for c := range side {
			x, y := float64(c%1024)/50, float64(r%1024)/60
			cells[r*side+c] = float32(300 + 20*math.Sin(x)*math.Cos(y) + float64((c*7+r*13)%17)/50)
		}
	}
	g, err := raster.FromCells(frame(b, side, side), cells, nil)
	if err != nil {
		b.Fatal(err)
	}
	return written(b, []*raster.Grid[float32]{g}, Options[float32]{Nodata: -9999, Overviews: raster.Average})
}

// counter counts what is read of a file.
type counter struct {
	*bytes.Reader
	bytes int64
}

func (c *counter) ReadAt(b []byte, at int64) (int, error) {
	n, err := c.Reader.ReadAt(b, at)
	c.bytes += int64(n)
	return n, err
}

// BenchmarkLarge opens a COG of 10,000 × 10,000 float32 and reads of it: a field (100 × 100 cells), a farm (1,000 × 1,000),
// all. Deflate and predictor 3, tiles of 256.
func BenchmarkLarge(b *testing.B) {
	data := large(b)
	for name, w := range map[string]raster.Window{"field 100x100": {Col: 5000, Row: 5000, Cols: 100, Rows: 100},
		"farm 1000x1000": {Col: 4321, Row: 2345, Cols: 1000, Rows: 1000}, "all 10000x10000": {}} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			r := &counter{Reader: bytes.NewReader(data)}
			for b.Loop() {
				f, err := Open("large.tif", r, int64(len(data)), &diag.List{})
				if err != nil {
					b.Fatal(err)
				}
				if _, err := Read[float32](context.Background(), f, Request{Window: w, Workers: 1}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(r.bytes)/float64(b.N), "read-B/op")
			b.ReportMetric(float64(len(data)), "file-B")
		})
	}
}

// BenchmarkWrite writes 2,000 × 2,000 float32 cells with three overviews.
func BenchmarkWrite(b *testing.B) {
	g := hills[float32](b, frame(b, 2000, 2000), -9999, 5)
	for b.Loop() {
		written(b, []*raster.Grid[float32]{g}, Options[float32]{Nodata: -9999, Overviews: raster.Average})
	}
}
