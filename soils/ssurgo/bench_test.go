package ssurgo_test

import (
	"context"
	"os"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils/ssurgo"
)

// benchmarkOpen reads everything anew in each round, since a second reading of one export is kept and costs nothing.
func benchmarkOpen(b *testing.B, name string, polygons bool) {
	folder := realFolder(b, name)
	b.ReportAllocs()
	for b.Loop() {
		e, err := ssurgo.Open(context.Background(), name, os.DirFS(folder), &diag.List{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := e.Survey(context.Background()); err != nil {
			b.Fatal(err)
		}
		if polygons {
			if err := e.Polygons(context.Background(), func(ssurgo.Polygon) error { return nil }); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// A county: 41 map units, 155 horizons; with polygons 2,546 of 157,000 vertices.
func BenchmarkTablesCounty(b *testing.B) { benchmarkOpen(b, "ssurgo-ar017", false) }
func BenchmarkCounty(b *testing.B)       { benchmarkOpen(b, "ssurgo-ar017", true) }

// A state of the general soil map: 559 map units, 11,434 horizons, 43,848 months.
func BenchmarkTablesState(b *testing.B) { benchmarkOpen(b, "statsgo2-ut-tabular", false) }
