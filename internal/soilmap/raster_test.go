package soilmap_test

import (
	"bytes"
	"context"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/geo/proj"
	"rootworthy/internal/geo/shapefile"
	"rootworthy/internal/job"
	"rootworthy/internal/soilmap"
	"rootworthy/raster"
	"rootworthy/raster/geotiff"
	"rootworthy/suitability"
)

// writeGrid returns a GeoTIFF of integers.
func writeGrid[T raster.Integer](t *testing.T, f raster.Frame, nodata T, value func(col, row int) T) []byte {
	t.Helper()
	g, err := raster.New[T](f)
	if err != nil {
		t.Fatal(err)
	}
	for row := range f.Rows {
		for col := range f.Cols {
			if v := value(col, row); v != nodata {
				g.Set(col, row, v)
			}
		}
	}
	var b bytes.Buffer
	if err := geotiff.Write(context.Background(), &b, []*raster.Grid[T]{g}, geotiff.Options[T]{Nodata: nodata}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func crs(t *testing.T, code int) proj.CRS {
	t.Helper()
	c, err := proj.FromEPSG(code)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// zoneAreas returns hectares by field and key.
func zoneAreas(r *suitability.Result) map[[2]string]float64 {
	out := map[[2]string]float64{}
	for _, z := range r.Zones {
		out[[2]string{z.FieldID, z.MapUnitKey}] = z.Area.Hectares()
	}
	return out
}

// The keys of a county as a raster of 30 m cells (made with gdal_rasterize from the polygons; its README in the shared
// data) against the polygons themselves: the same units, areas within what a staircase costs.
func TestRasterOfKeysAgainstItsPolygons(t *testing.T) {
	path := filepath.Join(shared(t, "raster-mukey"), "ar017_mukey_30m_derived.tif")
	dir := shared(t, "ssurgo-ar017")
	var fields []field.Field
	for _, f := range fieldsOf(t, filepath.Join(shared(t, "fields-ar017-invented"), "fields.geojson")) {
		if slices.Contains([]string{"INV-01-rect-rotated", "INV-02-irregular", "INV-03-pond-hole", "INV-04-two-part", "INV-08-invalid-ring"}, f.ID) {
			fields = append(fields, f)
		}
	}
	if len(fields) != 5 {
		t.Fatalf("%d fields lie in the raster, want 5", len(fields))
	}
	want, _ := screen(t, fields, folder(dir), soilmap.Options{}, job.Options{})
	got, faults := screen(t, fields, []soilmap.Source{file(path), asTables(folder(dir)[0])}, soilmap.Options{}, job.Options{})
	if faults.Faults() > 0 {
		t.Errorf("faults:\n%s", faults)
	}
	a, b := zoneAreas(got), zoneAreas(want)
	for k := range b {
		if b[k] > 1 && math.Abs(a[k]-b[k]) > 0.01*b[k]+0.35 { // half a cell on either side of some hundred metres of border
			t.Errorf("field %s, unit %s: %.3f ha by cells, %.3f by polygons", k[0], k[1], a[k], b[k])
		}
	}
	for i, f := range got.Fields {
		sum := 0.0
		for _, z := range f.Zones {
			sum += float64(got.Zones[z].Area)
		}
		if f.Uncovered > 1e-4 || f.Doubled > 1e-4 || math.Abs(sum-float64(f.Area)) > 1e-9*sum+1e-3 {
			t.Errorf("field %s: %v m² of %v uncovered, %v doubled, zones cover %v", f.ID, f.Uncovered, f.Area, f.Doubled, sum)
		}
		if math.Abs(float64(f.Area-want.Fields[i].Area)) > 1e-7*float64(f.Area) {
			t.Errorf("field %s: area %v, want %v", f.ID, f.Area, want.Fields[i].Area)
		}
	}
}

// A real raster, keys stored as floats, Albers without a code. gdalinfo and gdal_polygonize.py of GDAL 3.6.2 say 298 × 234
// cells; key shares are counted on the cells here.
func TestRealRasterWithoutTables(t *testing.T) {
	path := filepath.Join(shared(t, "raster-mukey"), "gssurgo_mukey_10m_mi.tif")
	s, err := soilmap.Open(context.Background(), []soilmap.Source{file(path)}, soilmap.Options{}, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	area := map[string]float64{}
	plane := proj.PlaneFor(orb.Bound{Min: orb.Point{-85, 42}, Max: orb.Point{-84.9, 42.2}})
	err = s.Polygons(context.Background(), func(_, key string, shape orb.MultiPolygon) error {
		flat, err := plane.ForwardMultiPolygon(shape, true)
		area[key] += areaOf(flat)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	st, _ := f.Stat()
	in, err := geotiff.Open(path, f, st.Size(), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	g, err := geotiff.Read[float64](context.Background(), in, geotiff.Request{})
	if err != nil {
		t.Fatal(err)
	}
	cells := map[string]int{}
	for row := range g.Frame().Rows {
		values, missing := g.Row(row)
		for col, v := range values {
			if missing == nil || !missing[col] {
				cells[decimal(v)]++
			}
		}
	}
	if !slices.Equal(slices.Sorted(maps.Keys(cells)), slices.Sorted(maps.Keys(area))) {
		t.Fatalf("keys %v, want %v", slices.Sorted(maps.Keys(area)), slices.Sorted(maps.Keys(cells)))
	}
	for k, n := range cells {
		if want := float64(n) * 100; math.Abs(area[k]-want) > 1e-5*want {
			t.Errorf("unit %s: %.1f m², %d cells are %.1f", k, area[k], n, want)
		}
	}
}

// Noise of keys over several tiles: no ground is lost or counted twice at the seams, to the last bit of the overlay's grid.
func TestTilesFitTogether(t *testing.T) {
	f := raster.Frame{Cols: 2200, Rows: 1060, West: 423015, North: 1150005, DX: 5, DY: 5, CRS: crs(t, 5070)}
	random := rand.New(rand.NewPCG(1, 2))
	small := make([]uint32, 300*300)
	for i := range small {
		small[i] = uint32(1 + random.IntN(4))
	}
	tif := writeGrid(t, f, uint32(0), func(col, row int) uint32 {
		if col > 900 && col < 1150 && row > 900 && row < 1050 || col > 2000 && row < 150 {
			return small[(row%300)*300+col%300]
		}
		return 7
	})
	for name, source := range map[string]soilmap.Source{
		"values are keys":  {Name: "keys.tif", Files: fstest.MapFS{"keys.tif": {Data: tif}}, Path: "keys.tif"},
		"values are coded": {Name: "keys.tif", Files: fstest.MapFS{"keys.tif": {Data: tif}, "keys.tif.vat.dbf": {Data: valueTable(t)}}, Path: "keys.tif"},
	} {
		at := func(x, y float64) orb.Point {
			p, _ := f.CRS.ToLonLat(orb.Point{x, y})
			return p
		}
		w, n := f.X(850), f.Y(850)
		e, s := f.X(1200), f.Y(1059)
		fields := []field.Field{{ID: "over the seams", Shape: orb.MultiPolygon{{{at(w, n), at(w, s), at(e, s), at(e, n), at(w, n)}}}}}
		r, faults := screen(t, fields, []soilmap.Source{source}, soilmap.Options{}, job.Options{})
		if len(r.Zones) != 5 || faults.Faults() > 0 {
			t.Fatalf("%s: %d zones, want 5\n%s", name, len(r.Zones), faults)
		}
		if fl := r.Fields[0]; fl.Uncovered > 1e-4 || fl.Doubled > 1e-4 {
			t.Errorf("%s: %v m² uncovered, %v doubled", name, fl.Uncovered, fl.Doubled)
		}
		for _, z := range r.Zones {
			if z.Rating.Class != suitability.NotRated || z.Rating.WhyNotRated != suitability.WhyNoTable {
				t.Errorf("%s: zone of %s is %v (%s)", name, z.MapUnitKey, z.Rating.Class, z.Rating.WhyNotRated)
			}
			if coded := len(z.MapUnitKey) == 6; coded != (name == "values are coded") {
				t.Errorf("%s: key %q", name, z.MapUnitKey)
			}
		}
	}
}

// valueTable is the table beside a raster that numbers its map units.
func valueTable(t *testing.T) []byte {
	t.Helper()
	rows := func(yield func(orb.MultiPolygon, []any) bool) {
		for v := range 8 {
			if !yield(nil, []any{v, 100 * v, decimal(float64(560000 + v))}) {
				return
			}
		}
	}
	enc, err := shapefile.NewEncoder([]shapefile.Column{{Name: "Value", Type: 'N'}, {Name: "Count", Type: 'N'}, {Name: "MUKEY", Type: 'C'}}, rows)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := enc.WriteDBF(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func areaOf(shape orb.MultiPolygon) (sum float64) {
	for _, part := range shape {
		for _, ring := range part {
			for i := 0; i+1 < len(ring); i++ {
				sum += (ring[i][0]*ring[i+1][1] - ring[i+1][0]*ring[i][1]) / 2
			}
		}
	}
	return sum
}
