package soilmap_test

import (
	"context"
	"os"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	"rootworthy/internal/soilmap"
	"rootworthy/raster"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// stackOf makes rasters of 0.002 degrees a cell in the sea west of Ireland; each value is that of the name plus the column.
func stackOf(t *testing.T, values map[string]int16) fstest.MapFS {
	t.Helper()
	f := raster.Frame{Cols: 6, Rows: 5, West: -15, North: 51, DX: 0.002, DY: 0.002, CRS: crs(t, 4326)}
	out := fstest.MapFS{}
	for name, v := range values {
		out[name+".tif"] = &fstest.MapFile{Data: writeGrid(t, f, int16(-32768), func(col, row int) int16 {
			if col == 5 && row == 4 {
				return -32768
			}
			if strings.HasPrefix(name, "phh2o") {
				return v + int16(col)
			}
			return v
		})}
	}
	return out
}

var someLayers = map[string]int16{"phh2o_0-5cm_mean": 52, "phh2o_0-5cm_Q0.05": 47, "phh2o_0-5cm_Q0.95": 60, "phh2o_5-15cm_mean": 53, "phh2o_15-30cm_mean": 54,
	"phh2o_30-60cm_mean": 55, "phh2o_60-100cm_mean": 56, "clay_0-5cm_mean": 180, "sand_0-5cm_mean": 430, "silt_0-5cm_mean": 400, "bdod_0-5cm_mean": 131, "soc_0-5cm_mean": 250,
	"wv0033_0-5cm_mean": 310, "wv1500_0-5cm_mean": 140, "nitrogen_0-5cm_mean": 200}

// Units and divisors: reference sheet of the soil survey, as published with the data: phh2o 10, clay 10, bdod 100, soc 10.
func TestModelledSoil(t *testing.T) {
	var faults diag.List
	s, err := soilmap.Open(context.Background(), []soilmap.Source{{Name: "grids", Files: stackOf(t, someLayers), Path: "."}}, soilmap.Options{}, &faults)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	survey := s.Survey()
	if len(survey.Units) != 29 || len(survey.Areas) != 1 || !survey.Areas[0].General || survey.Areas[0].Credit == "" {
		t.Fatalf("%d units in %+v", len(survey.Units), survey.Areas)
	}
	if n := faults.Notices(); n != 2 || faults.Faults() != 0 { // a layer that is not used, and what such soil is
		t.Errorf("%d notices:\n%s", n, &faults)
	}
	for _, u := range survey.Units {
		if u.Key != "-14.999 50.999" { // the middle of the first cell
			continue
		}
		h := u.Components[0].Horizons
		first := h[0]
		if len(h) != 5 || first.PH.Value != unit.Some(unit.PH(5.2)) || first.PH.Low != unit.Some(unit.PH(4.7)) || first.PH.High != unit.Some(unit.PH(6)) ||
			first.BulkDensity != unit.Some(1.31) || first.Texture != "L" || !first.TextureReckoned || first.OrganicMatter.Or(0) < 4.3 || first.OrganicMatter.Or(0) > 4.32 ||
			first.AWC.Has() || h[4].Top != unit.Some(unit.Depth(60)) || h[4].PH.Value != unit.Some(unit.PH(5.6)) {
			t.Errorf("%+v", h)
		}
		return
	}
	t.Error("there is no unit by the middle of the first cell")
}

// Water is known where every layer has it: a profile with figures for its top alone would seem dry.
func TestModelledWater(t *testing.T) {
	layers := map[string]int16{}
	for _, d := range []string{"0-5", "5-15", "15-30", "30-60", "60-100", "100-200"} {
		layers["phh2o_"+d+"cm_mean"], layers["wv0033_"+d+"cm_mean"], layers["wv1500_"+d+"cm_mean"] = 60, 310, 140
	}
	s, err := soilmap.Open(context.Background(), []soilmap.Source{{Name: "grids", Files: stackOf(t, layers), Path: "."}}, soilmap.Options{}, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range s.Survey().Units[0].Components[0].Horizons {
		if w := h.AWC.Or(0); w < 0.1699 || w > 0.1701 {
			t.Errorf("%s: %v cm of water per cm, want 0.17", h.Name, w)
		}
	}
}

// Cells tile a field; what is known is shown, and what is not is not made up.
func TestModelledSoilUnderAField(t *testing.T) {
	ring := orb.Ring{{-14.9995, 50.9995}, {-14.9995, 50.9925}, {-14.9915, 50.9925}, {-14.9915, 50.9995}, {-14.9995, 50.9995}}
	fields := []field.Field{{ID: "a", Shape: orb.MultiPolygon{{ring}}}}
	source := soilmap.Source{Name: "grids", Files: stackOf(t, someLayers), Path: "."}
	r, faults := screen(t, fields, []soilmap.Source{source}, soilmap.Options{}, job.Options{})
	if len(r.Zones) != 20 || r.Fields[0].Uncovered > 1e-4 || r.Fields[0].Doubled > 1e-4 {
		t.Fatalf("%d zones, %+v\n%s", len(r.Zones), r.Fields[0].Uncovered, faults)
	}
	for _, z := range r.Zones {
		v := z.Rating.Values
		if z.Rating.Class != suitability.NotRated || z.Rating.Confidence.Level != suitability.Low || !v.PHSurface.Has() || !v.PHSubsoil.Has() || v.Drainage != "" {
			t.Errorf("zone %s: %v, %+v", z.ID, z.Rating.Class, v)
		}
	}
}

// A file in the projection that the grids are published in, made with gdal_create 3.6.2 (-a_srs "+proj=igh +datum=WGS84"): 4
// × 3 cells of 250 m, pH 5.8. cs2cs of PROJ 9.1.1 puts its corner in the south-west at longitude -68.9453153, its northern edge at 40.4241878.
func TestModelledSoilInItsOwnProjection(t *testing.T) {
	s, err := soilmap.Open(context.Background(), []soilmap.Source{{Name: "testdata", Files: os.DirFS("testdata"), Path: "."}}, soilmap.Options{}, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var box orb.Bound
	n := 0
	err = s.Polygons(context.Background(), func(_, _ string, shape orb.MultiPolygon) error {
		if n++; n == 1 {
			box = shape.Bound()
		}
		box = box.Union(shape.Bound())
		return nil
	})
	if err != nil || n != 12 || len(s.Survey().Units) != 12 {
		t.Fatal(n, err)
	}
	if w, north := box.Min[0], box.Max[1]; !near(w, -68.9453153) || !near(north, 40.4241878) {
		t.Errorf("west %.7f, north %.7f", w, north)
	}
}

func near(a, b float64) bool { return a-b < 1e-7 && b-a < 1e-7 }

// Stacks from which nothing could be rated, or of which nobody could say which value counts.
func TestStackRefusals(t *testing.T) {
	for name, c := range map[string]struct {
		files fstest.MapFS
		say   string
	}{
		"no pH": {stackOf(t, map[string]int16{"clay_0-5cm_mean": 200}), "without pH"},
		"twice": {func() fstest.MapFS {
			m := stackOf(t, map[string]int16{"phh2o_0-5cm_mean": 52})
			m["again/phh2o_0-5cm_mean.tif"] = m["phh2o_0-5cm_mean.tif"]
			return m
		}(), "stands in"},
	} {
		_, err := soilmap.Open(context.Background(), []soilmap.Source{{Name: "grids", Files: c.files, Path: "."}}, soilmap.Options{}, &diag.List{})
		if err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("%s: %v, want %q", name, err, c.say)
		}
	}
}
