package geopackage

import (
	"bytes"
	"io"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

// many is a layer of 10,000 zones of 60 corners with 12 columns.
func many() Content {
	const zones, corners = 10_000, 60
	cols := []feature.Column{{Name: "zone_id"}, {Name: "class"}, {Name: "reason"}}
	values := []any{"Home Z1", "marginal", "surface too acid: 5.2, needs 6.5 or more"}
	for _, name := range []string{"area_ac", "ph_surface", "ph_subsoil", "depth_cm", "slope_pct", "awc_mm", "score", "lime_st_ac", "sar"} {
		cols, values = append(cols, feature.Column{Name: name, Type: feature.Real}), append(values, 1.25)
	}
	ring := make(orb.Ring, corners+1)
	return Content{Name: "zones", Columns: cols, Rows: func(yield func(orb.MultiPolygon, []any) bool) {
		for i := range zones {
			x, y := -90+float64(i%100)*.01, 38+float64(i/100)*.01
			for k := range ring {
				a := 2 * math.Pi * float64(k%corners) / corners
				ring[k] = orb.Point{x + .004*math.Cos(a), y + .004*math.Sin(a)}
			}
			if !yield(orb.MultiPolygon{{ring}}, values) {
				return
			}
		}
	}}
}

func BenchmarkWrite10000(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(b.Context(), io.Discard, []Content{many()}, changed()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRead10000(b *testing.B) {
	file := made(b, many())
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		db, err := Open(b.Context(), "f", bytes.NewReader(file), int64(len(file)), &diag.List{})
		if err != nil {
			b.Fatal(err)
		}
		l, err := db.Layer(b.Context(), "")
		if err == nil {
			err = l.Features(b.Context(), func(feature.Feature) error { return nil })
		}
		if err != nil {
			b.Fatal(err)
		}
		db.Close()
	}
}
