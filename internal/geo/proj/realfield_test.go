package proj

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/paulmach/orb"
)

// TestFieldAreas holds the area of each invented field to an independent computation (geopandas 0.12.2 with PROJ 9.1.1:
// vertices projected to EPSG:5070, and the geodesic polygon on WGS 84), half the last printed digit; and the densified
// plane to the ellipsoid, whose edges are then the same but for a millimetre, to 1e-6.
func TestFieldAreas(t *testing.T) {
	const dir = "../../../../shared/data/fields-ar017-invented/"
	text, err := os.ReadFile(dir + "fields.geojson")
	if err != nil {
		t.Skip("no field data at ../shared/data beside the repository")
	}
	var fields struct{ Features []feature }
	if err := json.Unmarshal(text, &fields); err != nil {
		t.Fatal(err)
	}
	want := fieldTotals(t, dir+"field-totals.csv")
	plane := PlaneFor(bound(-92, 33, -91, 34))
	for _, f := range fields.Features {
		name, mp := f.Properties.Field, f.shape(t)
		w, listed := want[name]
		if !listed {
			t.Errorf("%s: no totals", name)
			continue
		}
		geo, _ := GeodesicArea(mp, GeodesicOptions{})
		fine, _ := GeodesicArea(mp, GeodesicOptions{Step: 5})
		plain, dense := flatArea(t, plane, mp, false), flatArea(t, plane, mp, true)
		if math.Abs(plain/1e4-w[0]) > 0.6e-6 || math.Abs(geo/1e4-w[1]) > 0.6e-6 {
			t.Errorf("%s: %.7f ha in the plane, %.7f ha on the ellipsoid, want %v", name, plain/1e4, geo/1e4, w)
		}
		if !(math.Abs(dense/fine-1) < 1e-6) {
			t.Errorf("%s: densified %.5f m² in the plane, %.5f m² on the ellipsoid: %.2g apart", name, dense, fine, dense/fine-1)
		}
		t.Logf("%s: plane against ellipsoid %.1g densified, %.1g without", name, dense/fine-1, plain/fine-1)
	}
	if len(fields.Features) != len(want) {
		t.Errorf("%d fields, %d totals", len(fields.Features), len(want))
	}
}

// feature is as much of a GeoJSON feature as the test needs.
type feature struct {
	Properties struct{ Field string }
	Geometry   struct {
		Type        string
		Coordinates json.RawMessage
	}
}

// shape reads a Polygon or MultiPolygon.
func (f feature) shape(t *testing.T) (mp orb.MultiPolygon) {
	t.Helper()
	var one orb.Polygon
	err := json.Unmarshal(f.Geometry.Coordinates, &mp)
	if f.Geometry.Type == "Polygon" {
		err = json.Unmarshal(f.Geometry.Coordinates, &one)
		mp = orb.MultiPolygon{one}
	}
	if err != nil {
		t.Fatal(f.Properties.Field, err)
	}
	return mp
}

// flatArea is the planar area of all parts less their holes, m².
func flatArea(t *testing.T, plane Plane, mp orb.MultiPolygon, densify bool) (m2 float64) {
	t.Helper()
	flat, err := plane.ForwardMultiPolygon(mp, densify)
	if err != nil {
		t.Fatal(err)
	}
	for _, poly := range flat {
		for i, ring := range poly {
			a := planarArea(ring)
			if i > 0 {
				a = -a
			}
			m2 += a
		}
	}
	return m2
}

// fieldTotals reads the areas of fields in hectares: in EPSG:5070, geodesic.
func fieldTotals(t *testing.T, path string) map[string][2]float64 {
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
	all := map[string][2]float64{}
	for _, row := range rows[1:] {
		plane, err1 := strconv.ParseFloat(row[1], 64)
		geo, err2 := strconv.ParseFloat(row[2], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(row)
		}
		all[row[0]] = [2]float64{plane, geo}
	}
	return all
}
