package geotiff

import (
	"bytes"
	"context"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/raster"
)

// FuzzGeoTIFF: whatever the bytes are, reading ends, and cells that were read are written and read back the same.
func FuzzGeoTIFF(f *testing.F) {
	for _, b := range tiny(f) {
		f.Add(b)
		f.Add(b[:len(b)/2])
	}
	f.Add(written(f, []*raster.Grid[float32]{hills[float32](f, frame(f, 40, 30), -1, 3)}, Options[float32]{Nodata: -1, Tile: 16, Overviews: raster.Average}))
	f.Add(written(f, []*raster.Grid[uint8]{hills[uint8](f, frame(f, 40, 30), 0, 3)}, Options[uint8]{Tile: 16, Names: []string{"a & b"}}))
	f.Fuzz(func(t *testing.T, b []byte) {
		file, err := Open("fuzz.tif", bytes.NewReader(b), int64(len(b)), &diag.List{})
		if err != nil {
			return
		}
		file.CRS()
		if _, err := file.Frame(); err != nil {
			return
		}
		for level := range file.Levels() {
			for band := range file.Bands()[:min(3, len(file.Bands()))] {
				lf := file.Levels()[level]
				q := Request{Band: band, Level: level, MaxCells: 1 << 14,
					Window: raster.Window{Cols: min(lf.Cols, 100), Rows: min(lf.Rows, 100)}}
				g, err := Read[float64](context.Background(), file, q)
				if err != nil {
					continue
				}
				Read[uint8](context.Background(), file, q)
				comeBack(t, g)
			}
		}
	})
}

// comeBack writes cells with a place that can be written, and reads them.
func comeBack(t *testing.T, g *raster.Grid[float64]) {
	fr := g.Frame()
	moved, err := raster.New[float64](frame(t, fr.Cols, fr.Rows))
	if err != nil {
		t.Fatal(err)
	}
	const none = -1.2345e300
	for r := range fr.Rows {
		for c := range fr.Cols {
			if v, ok := g.At(c, r); ok && v != none {
				moved.Set(c, r, v)
			}
		}
	}
	again := reopened(t, written(t, []*raster.Grid[float64]{moved}, Options[float64]{Nodata: none, Tile: 64}))
	back, err := Read[float64](context.Background(), again, Request{})
	if err != nil {
		t.Fatal(err)
	}
	// The no-data value is of a size that swallows its neighbours; none of them comes from a real band.
	for r := range fr.Rows {
		for c := range fr.Cols {
			v, ok := moved.At(c, r)
			if w, has := back.At(c, r); (v != w || ok != has) && !(v < -1.2e300 && v > -1.3e300) {
				t.Fatalf("column %d, row %d: %v (%v) came back as %v (%v)", c, r, v, ok, w, has)
			}
		}
	}
}
