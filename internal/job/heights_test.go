package job

import (
	"bytes"
	"context"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/geo/proj"
	"rootworthy/raster"
	"rootworthy/raster/geotiff"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// hillside is a raster of heights in feet: a plane that rises by 12 metres in a hundred towards the east over 200 × 200
// cells, north of which there are no heights.
func hillside(t testing.TB, cell float64) *Heights { return hillsideIn(t, cell, 26915, 4652000) }

// hillsideIn is the same in another system, with its north edge elsewhere.
func hillsideIn(t testing.TB, cell float64, code int, north float64) *Heights {
	t.Helper()
	crs, err := proj.FromEPSG(code)
	if err != nil {
		t.Fatal(err)
	}
	side := int(2000 / cell)
	g, err := raster.New[float32](raster.Frame{Cols: side, Rows: side, West: 450000, North: north, DX: cell, DY: cell, CRS: crs})
	if err != nil {
		t.Fatal(err)
	}
	for row := side / 2; row < side; row++ {
		for col := range side {
			g.Set(col, row, float32(float64(col)*cell*0.12/0.3048))
		}
	}
	var b bytes.Buffer
	if err := geotiff.Write(context.Background(), &b, []*raster.Grid[float32]{g}, geotiff.Options[float32]{Nodata: -9999}); err != nil {
		t.Fatal(err)
	}
	f, err := geotiff.Open("hill.tif", bytes.NewReader(b.Bytes()), int64(b.Len()), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	return &Heights{Name: "hill.tif", File: f, HeightMetres: 0.3048}
}

// onTheHill are two fields: one on the plane, one where there are no heights.
func onTheHill(t testing.TB, h *Heights) ([]field.Field, *testSurvey) {
	t.Helper()
	crs, _ := h.File.CRS()
	square := func(x, y, side float64) orb.MultiPolygon {
		var ring orb.Ring
		for _, c := range [][2]float64{{0, 0}, {side, 0}, {side, side}, {0, side}, {0, 0}} {
			p, ok := crs.ToLonLat(orb.Point{x + c[0], y + c[1]})
			if !ok {
				t.Fatal("no place")
			}
			ring = append(ring, p)
		}
		return orb.MultiPolygon{{ring}}
	}
	fields := []field.Field{{ID: "on", Shape: square(450800, 4650300, 400)}, {ID: "off", Shape: square(450800, 4651400, 400)}}
	soil := soils.Component{Name: "Somewhere", Percent: unit.Some(unit.Percent(100)), Drainage: soils.WellDrained, Slope: soils.Range[float64]{Value: unit.Some(3.0)},
		Horizons: []soils.Horizon{{Name: "Ap", Top: unit.Some(unit.Depth(0)), Bottom: unit.Some(unit.Depth(200)), Texture: "L", TextureGroup: "L",
			PH: soils.Range[unit.PH]{Value: unit.Some(unit.PH(6.8))}, AWC: unit.Some(0.18)}}}
	survey := &soils.Survey{Areas: []soils.Area{{Symbol: "ZZ001", Name: "invented"}}, Units: []soils.MapUnit{{Key: "1", Symbol: "A", Name: "Somewhere loam", Area: "ZZ001", Components: []soils.Component{soil}}}}
	return fields, &testSurvey{survey: survey, polygons: []ssurgo.Polygon{{Area: "ZZ001", Unit: "1", Shape: square(449000, 4649000, 5000)}}}
}

// The slope of a plane is that of the plane, whatever its cells: by definition, 12 m in 100 m are 12 %.
func TestMeasuredSlopeTakesThePlaceOfTheSurveys(t *testing.T) {
	for _, cell := range []float64{10, 2} {
		h := hillside(t, cell)
		fields, survey := onTheHill(t, h)
		var faults diag.List
		plain, err := Screen(context.Background(), fields, survey, Options{}, &faults)
		if err != nil {
			t.Fatal(err)
		}
		r, err := Screen(context.Background(), fields, survey, Options{Heights: h}, &faults)
		if err != nil {
			t.Fatal(err)
		}
		on, off := &r.Zones[0], &r.Zones[1]
		if s, ok := on.Rating.Values.Slope.Get(); !ok || math.Abs(s-12) > 0.01 {
			t.Errorf("cells of %v m: slope %v, want 12", cell, on.Rating.Values.Slope)
		}
		f := findingOn(on, suitability.Slope)
		if !f.Elevation || f.Survey != unit.Some(3.0) || f.SurveyClass != suitability.Suited || f.Class != suitability.Marginal || on.Rating.Limiting != suitability.Slope {
			t.Errorf("cells of %v m: %+v, limiting %q", cell, f, on.Rating.Limiting)
		}
		if off.Rating.Terrain.Any() || !reflect.DeepEqual(*off, plain.Zones[1]) {
			t.Errorf("cells of %v m: a zone without heights is %+v", cell, off.Rating.Terrain)
		}
		if !strings.Contains(faults.String(), "the slope of one zone is measured on it; in one zone it has too few heights") {
			t.Errorf("not told:\n%s", &faults)
		}
		var b bytes.Buffer
		if err := words.Explain(&b, on, r.Profile); err != nil {
			t.Fatal(err)
		}
		for _, say := range []string{"measured on the elevation raster; the survey says 3 %", "It counts in place of the survey's."} {
			if !strings.Contains(strings.Join(strings.Fields(b.String()), " "), say) {
				t.Errorf("the explanation does not say %q:\n%s", say, b.String())
			}
		}
	}
}

// The witnesses are noted and change nothing but the note.
func TestTerrainWitnesses(t *testing.T) {
	h := hillside(t, 10)
	fields, survey := onTheHill(t, h)
	without, err := Screen(context.Background(), fields, survey, Options{Heights: h}, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	h.Witnesses = true
	with, err := Screen(context.Background(), fields, survey, Options{Heights: h}, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	w := with.Zones[0].Rating.Terrain
	if !w.Wetness.Has() || w.WettestTenth.Or(0) < w.Wetness.Or(0) || math.Abs(w.Below.Or(9)) > 0.5 {
		t.Errorf("%+v", w)
	}
	a, b := with.Zones[0].Rating, without.Zones[0].Rating
	a.Terrain, b.Terrain = suitability.Terrain{}, suitability.Terrain{}
	if !reflect.DeepEqual(a, b) {
		t.Error("a witness changed the rating")
	}
}

// Heights on NAD27 are measured like any others, and it is said how far to the side they may lie.
func TestHeightsOnNAD27(t *testing.T) {
	h := hillsideIn(t, 10, 26715, 4652000)
	fields, survey := onTheHill(t, h)
	var faults diag.List
	r, err := Screen(context.Background(), fields, survey, Options{Heights: h}, &faults)
	if err != nil {
		t.Fatal(err)
	}
	if s, ok := r.Zones[0].Rating.Values.Slope.Get(); !ok || math.Abs(s-12) > 0.01 || r.Zones[1].Rating.Terrain.Any() {
		t.Errorf("slope %v, want 12; without heights %+v", r.Zones[0].Rating.Values.Slope, r.Zones[1].Rating.Terrain)
	}
	for _, say := range []string{"hill.tif", "NAD27 is brought to WGS 84 by one shift for all of the conterminous United States (EPSG:1173", "may lie up to 10 m to the side", "grid of shifts"} {
		if strings.Count(faults.String(), say) == 0 {
			t.Errorf("not told %q:\n%s", say, &faults)
		}
	}
}

// Beyond the States the shift says nothing: such heights are none, and no place is guessed for them.
func TestHeightsOnNAD27InCanada(t *testing.T) {
	const north = 5602000 // some 50.5 degrees
	fields, survey := onTheHill(t, hillside(t, 10))
	for i := range fields {
		for _, ring := range fields[i].Shape[0] {
			for k := range ring {
				ring[k][1] += 8.5 // degrees, from Iowa to Ontario
			}
		}
	}
	survey.polygons[0].Shape[0][0] = orb.Ring{{-95, 50}, {-92, 50}, {-92, 51}, {-95, 51}, {-95, 50}}
	var faults diag.List
	r, err := Screen(context.Background(), fields, survey, Options{Heights: hillsideIn(t, 10, 26715, north)}, &faults)
	if err != nil {
		t.Fatal(err)
	}
	for i := range r.Zones {
		if r.Zones[i].Rating.Terrain.Any() {
			t.Errorf("zone %s: %+v", r.Zones[i].ID, r.Zones[i].Rating.Terrain)
		}
	}
	if len(r.Zones) != 2 || !strings.Contains(faults.String(), "too few heights in every zone") || !strings.Contains(faults.String(), "conterminous United States") {
		t.Errorf("%d zones\n%s", len(r.Zones), &faults)
	}
}

func findingOn(z *suitability.Zone, code suitability.Code) suitability.Finding {
	for _, f := range z.Rating.Components[0].Findings {
		if f.Criterion == code {
			return f
		}
	}
	return suitability.Finding{}
}
