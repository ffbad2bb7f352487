package bench

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	"rootworthy/internal/run"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
)

// county is the middle of Chicot County, Arkansas (survey area AR017).
var county = orb.Bound{Min: orb.Point{-91.45, 33.03}, Max: orb.Point{-91.13, 33.53}}

// BenchmarkScreenCounty runs everything from opened files to written ones: read the fields, open the survey of a whole
// county, overlay, rate, plan, write the run folder. Ten times the fields must cost at most eleven times the time.
func BenchmarkScreenCounty(b *testing.B) {
	dir := filepath.Join("..", "..", "..", "shared", "data", "ssurgo-ar017")
	if _, err := os.Stat(dir); err != nil {
		b.Skipf("needs the real survey %s", dir)
	}
	for _, n := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprintf("fields=%d", n), func(b *testing.B) {
			var text bytes.Buffer
			if err := WriteGeoJSON(&text, Fields(county, n, 1)); err != nil {
				b.Fatal(err)
			}
			files := fstest.MapFS{"fields.geojson": {Data: text.Bytes()}}
			for b.Loop() {
				screen(b, files, dir, filepath.Join(b.TempDir(), "run"))
			}
		})
	}
}

func screen(b *testing.B, files fstest.MapFS, survey, out string) {
	ctx := context.Background()
	var faults diag.List
	fields, err := field.Read(ctx, []field.Source{{Name: "fields.geojson", Files: files, Path: "fields.geojson"}}, field.Options{}, &faults)
	if err != nil {
		b.Fatal(err)
	}
	e, err := ssurgo.Open(ctx, "AR017", os.DirFS(survey), &faults)
	if err != nil {
		b.Fatal(err)
	}
	s, err := e.Survey(ctx)
	if err != nil {
		b.Fatal(err)
	}
	r, err := job.Screen(ctx, fields, opened{e, s}, job.Options{}, &faults)
	if err != nil {
		b.Fatal(err)
	}
	if err := run.Write(out, r); err != nil {
		b.Fatal(err)
	}
}

type opened struct {
	export *ssurgo.Export
	survey *soils.Survey
}

func (o opened) Survey() *soils.Survey { return o.survey }

func (o opened) Polygons(ctx context.Context, emit func(area, key string, shape orb.MultiPolygon) error) error {
	return o.export.Polygons(ctx, func(p ssurgo.Polygon) error { return emit(p.Area, p.Unit, p.Shape) })
}
