package job

import (
	"context"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/suitability"
)

const shared = "../../../shared"

// export opens a survey export below shared/data, or skips.
func export(t testing.TB, name string) *testSurvey {
	t.Helper()
	dir := filepath.Join(shared, "data", name)
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("needs the real survey %s, which is not beside this checkout", dir)
	}
	var faults diag.List
	e, err := ssurgo.Open(context.Background(), name, os.DirFS(dir), &faults)
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return &testSurvey{survey: s, export: e}
}

// testSurvey is an opened export; with polygons set it hands out those instead.
type testSurvey struct {
	survey   *soils.Survey
	export   *ssurgo.Export
	polygons []ssurgo.Polygon
}

func (s *testSurvey) Survey() *soils.Survey { return s.survey }

func (s *testSurvey) Polygons(ctx context.Context, emit func(area, key string, shape orb.MultiPolygon) error) error {
	if s.polygons == nil {
		return s.export.Polygons(ctx, func(p ssurgo.Polygon) error { return emit(p.Area, p.Unit, p.Shape) })
	}
	for _, p := range s.polygons {
		if err := emit(p.Area, p.Unit, p.Shape); err != nil {
			return err
		}
	}
	return nil
}

func readFields(t testing.TB, dir, file string, faults *diag.List) []field.Field {
	t.Helper()
	fields, err := field.Read(context.Background(), []field.Source{{Name: file, Files: os.DirFS(dir), Path: file}}, field.Options{}, faults)
	if err != nil {
		t.Fatal(err)
	}
	return fields
}

func screenReal(t testing.TB, fields []field.Field, s Survey, workers int, faults *diag.List) *suitability.Result {
	t.Helper()
	r, err := Screen(context.Background(), fields, s, Options{Workers: workers}, faults)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestAreasAgreeWithReferenceOverlays compares every zone with overlays computed by geopandas 0.12.2, shapely 1.8.5 and
// GEOS 3.11.1 in EPSG:5070 (pyproj 3.4.1, PROJ 9.1.1). Read, within 1e-4 of the value or 0.001 ha.
func TestAreasAgreeWithReferenceOverlays(t *testing.T) {
	for _, c := range []struct{ survey, fields string }{{"ssurgo-ar017", "fields-ar017-invented"}, {"ssurgo-ia073-aoi", "fields-ia073-invented"}} {
		t.Run(c.survey, func(t *testing.T) {
			s := export(t, c.survey)
			dir := filepath.Join(shared, "data", c.fields)
			var faults diag.List
			r := screenReal(t, readFields(t, dir, "fields.geojson", &faults), s, 0, &faults)
			want := map[string]float64{}
			for _, row := range readCSV(t, filepath.Join(dir, "overlay-reference.csv")) {
				want[row["field"]+" "+row["mukey"]] = number(t, row["area_ha_epsg5070"])
			}
			got := map[string]float64{}
			for _, z := range r.Zones {
				got[z.FieldID+" "+z.MapUnitKey] = z.Area.Hectares()
			}
			for k, w := range want {
				if g, ok := got[k]; !ok || math.Abs(g-w) > max(1e-4*w, 0.001) {
					t.Errorf("%s: %v ha (found: %v), want %v", k, g, ok, w)
				}
			}
			if len(got) != len(want) {
				t.Errorf("%d zones, want %d", len(got), len(want))
			}
		})
	}
}

// TestZonesTileTheirField: zones + uncovered − doubly covered = field, to 1e-9; a field outside the survey has no zones
// and says so, and the rest is unharmed.
func TestZonesTileTheirField(t *testing.T) {
	s := export(t, "ssurgo-ar017")
	var faults diag.List
	r := screenReal(t, readFields(t, filepath.Join(shared, "data", "fields-ar017-invented"), "fields.geojson", &faults), s, 0, &faults)
	for _, f := range r.Fields {
		sum := float64(f.Uncovered - f.Doubled)
		for _, z := range f.Zones {
			sum += float64(r.Zones[z].Area)
		}
		if math.Abs(sum-float64(f.Area)) > 1e-9*float64(f.Area) {
			t.Errorf("%s: zones and uncovered ground make %v m², the field has %v", f.ID, sum, float64(f.Area))
		}
		outside := f.ID == "INV-10-outside"
		if outside != (f.Trouble == "outside the survey") || outside != (len(f.Zones) == 0) {
			t.Errorf("%s: trouble %q, %d zones", f.ID, f.Trouble, len(f.Zones))
		}
	}
	if faults.Faults() != 1 {
		t.Errorf("%d faults, want the one field outside the survey:\n%s", faults.Faults(), faults.String())
	}
}

// TestRectanglesAgreeWithGDAL compares three rectangles with pieces clipped by GDAL and measured by an ellipsoidal formula
// (soil-overlay-checks.csv, computed; the edges are straight in degrees there and here). Within 1e-4 of the value.
func TestRectanglesAgreeWithGDAL(t *testing.T) {
	s := export(t, "ssurgo-ar017")
	want := map[string]float64{}
	shapes := map[string]orb.MultiPolygon{}
	for _, row := range readCSV(t, filepath.Join(shared, "reference", "soil-overlay-checks.csv")) {
		shape, err := wkt.UnmarshalPolygon(row["field_wkt"])
		if err != nil {
			t.Fatal(err)
		}
		shapes[row["field"]] = orb.MultiPolygon{shape}
		if row["mukey"] != "*" { // the row of the whole field
			want[row["field"]+" "+row["mukey"]] = number(t, row["area_m2"])
		}
	}
	var names []string
	for n := range shapes {
		names = append(names, n)
	}
	slices.Sort(names)
	var fields []field.Field
	for _, n := range names {
		fields = append(fields, field.Field{ID: n, Name: n, Shape: shapes[n]})
	}
	var faults diag.List
	r := screenReal(t, fields, s, 0, &faults)
	got := map[string]float64{}
	for _, z := range r.Zones {
		got[z.FieldID+" "+z.MapUnitKey] = float64(z.Area)
	}
	for k, w := range want {
		if math.Abs(got[k]-w) > max(1e-4*w, 1) {
			t.Errorf("%s: %v m², want %v", k, got[k], w)
		}
	}
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func readCSV(t testing.TB, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, name := range rows[0] {
			m[name] = r[i]
		}
		out = append(out, m)
	}
	return out
}
