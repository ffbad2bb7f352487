package field

import (
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/geojson"
)

// data is the folder of real files beside the repository.
const data = "../../../shared/data"

// TestRealBoundaries: counts, areas and invalid fields are those in each file's own README, found with GEOS and PROJ.
func TestRealBoundaries(t *testing.T) {
	if _, err := os.Stat(data); err != nil {
		t.Skipf("real data are not there: %v", err)
	}
	for _, tc := range []struct {
		path    string
		fields  int
		hectare float64  // in all; 0 when the README has none
		mended  []string // "index: what"
	}{
		{"fields-sc/fields_EPSG4326.geojson", 25, 68.93, []string{"451623001001196: its lines touch in 2 places", "451623001001262: its lines touch in one place", "451623001001295: its lines touch in one place"}},
		{"fields-story-ia/fields_EPSG4326.geojson", 25, 787.87, nil},
		{"fields-ar017-invented/fields.geojson", 10, 0, nil},
		{"fields-ia073-invented/fields.geojson", 6, 0, nil},
		{"fields-mn-csb/fields.geojson", 2, 0, nil},
		{"ssurgo-ia073-aoi/spatial/soilmu_a_aoi.shp", 13, 8.84, nil},
		{"ssurgo-ar017/spatial/soilmu_a_ar017.shp", 2546, 179094, []string{"1611: its lines touch in one place"}},
	} {
		faults := &diag.List{}
		fields, err := Read(t.Context(), []Source{{Name: tc.path, Files: os.DirFS(data), Path: tc.path}}, Options{}, faults)
		if err != nil || len(fields) != tc.fields || faults.Faults() > 0 {
			t.Errorf("%s: %d fields, %v, %v", tc.path, len(fields), err, faults)
			continue
		}
		var hectare float64
		var mended []string
		for _, f := range fields {
			if bad := arrange.CheckAll(onGrid(f.Shape)); !bad.OK() {
				t.Errorf("%s %s: not valid: %v", tc.path, f.ID, bad)
			}
			hectare += areaOf(f.Shape).Hectares()
			for _, r := range f.Repairs {
				if !strings.Contains(r, "other way round") {
					mended = append(mended, f.ID+": "+r)
				}
			}
		}
		// Half a unit of the last digit the README prints.
		if tc.hectare > 0 && math.Abs(hectare-tc.hectare) > 0.005*math.Max(1, math.Round(tc.hectare/1e4)*100) {
			t.Errorf("%s: %.4f ha, README has %v", tc.path, hectare, tc.hectare)
		}
		if !reflect.DeepEqual(mended, tc.mended) {
			t.Errorf("%s: mended %q, want %q", tc.path, mended, tc.mended)
		}
	}
}

// TestPropertiesAreKept: every property of the file stands in the field, in order, with its text.
func TestPropertiesAreKept(t *testing.T) {
	const path = "fields-sc/fields_EPSG4326.geojson"
	f, err := os.Open(data + "/" + path)
	if os.IsNotExist(err) {
		t.Skipf("real data are not there: %v", err)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	want, err := geojson.Read(path, f, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	fields, err := Read(t.Context(), []Source{{Name: path, Files: os.DirFS(data), Path: path}}, Options{}, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range fields {
		if len(f.Attributes) != len(want.Features[i].Properties) || len(f.Attributes) < 9 {
			t.Fatalf("field %s has %d attributes, file %d", f.ID, len(f.Attributes), len(want.Features[i].Properties))
		}
		for k, a := range f.Attributes {
			if p := want.Features[i].Properties[k]; a.Name != p.Name || string(a.Value) != string(p.Value) {
				t.Errorf("field %s: %s = %s, file has %s = %s", f.ID, a.Name, a.Value, p.Name, p.Value)
			}
		}
	}
}
