package sampling_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/internal/bench"
	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/suitability"
	"rootworthy/testdata/demo"
)

type opened struct {
	export *ssurgo.Export
	survey *soils.Survey
}

func (o opened) Survey() *soils.Survey { return o.survey }

func (o opened) Polygons(ctx context.Context, emit func(area, key string, shape orb.MultiPolygon) error) error {
	return o.export.Polygons(ctx, func(p ssurgo.Polygon) error { return emit(p.Area, p.Unit, p.Shape) })
}

// screened is a run from files to result, as a user makes it.
func screened(t testing.TB, src field.Source, survey string) *suitability.Result {
	t.Helper()
	ctx := context.Background()
	var faults diag.List
	fields, err := field.Read(ctx, []field.Source{src}, field.Options{}, &faults)
	if err != nil {
		t.Fatal(err)
	}
	e, err := ssurgo.Open(ctx, filepath.Base(survey), os.DirFS(survey), &faults)
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(ctx)
	if err != nil {
		t.Fatal(err)
	}
	r, err := job.Screen(ctx, fields, opened{e, s}, job.Options{}, &faults)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// tarnHollow is the invented farm.
func tarnHollow(t testing.TB) *suitability.Result {
	return screened(t, field.Source{Name: "fields.geojson", Files: demo.Files, Path: "fields.geojson"}, "../../testdata/demo/survey")
}

// chicot is made fields on the real survey of Chicot County, Arkansas (USDA-NRCS SSURGO AR017, public domain).
func chicot(t testing.TB, n int) *suitability.Result {
	dir := "../../../shared/data/ssurgo-ar017"
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("needs the real survey %s, which is not beside this checkout", dir)
	}
	var text bytes.Buffer
	box := orb.Bound{Min: orb.Point{-91.45, 33.03}, Max: orb.Point{-91.13, 33.53}}
	if err := bench.WriteGeoJSON(&text, bench.Fields(box, n, 1)); err != nil {
		t.Fatal(err)
	}
	return screened(t, field.Source{Name: "fields.geojson", Files: fstest.MapFS{"fields.geojson": {Data: text.Bytes()}}, Path: "fields.geojson"}, dir)
}
