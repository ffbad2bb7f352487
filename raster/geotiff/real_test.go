package geotiff

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/raster"
)

const realData = "../../../shared/data"

func openReal(t testing.TB, parts ...string) *File {
	t.Helper()
	path := filepath.Join(append([]string{realData}, parts...)...)
	if _, err := os.Stat(path); err != nil {
		t.Skipf("real rasters are not there: %v", err)
	}
	f, faults := openFile(t, path)
	if s := faults.String(); s != "" {
		t.Errorf("%s: %s", path, s)
	}
	return f
}

// TestRealKeys10m: keys kept as Float32, in an Albers system without a code, no-data value 2147483647, which no float32 is.
// Size, corner and range as gdalinfo 3.6.2 gives them; the middle in longitude and latitude as its corner table does.
func TestRealKeys10m(t *testing.T) {
	f := openReal(t, "raster-mukey", "gssurgo_mukey_10m_mi.tif")
	fr, err := f.Frame()
	if err != nil || fr.Cols != 298 || fr.Rows != 234 || fr.West != 901695 || fr.North != 2184305 || fr.DX != 10 || fr.DY != 10 {
		t.Errorf("%+v, %v", fr, err)
	}
	crs, err := f.CRS()
	if err != nil {
		t.Fatal(err)
	}
	got, ok := crs.ToLonLat(orb.Point{903185, 2183135})
	if want := (orb.Point{-(84 + 58./60 + 7.12/3600), 42 + 10./60 + 35.45/3600}); !ok || math.Abs(got[0]-want[0]) > 0.005/3600 || math.Abs(got[1]-want[1]) > 0.005/3600 {
		t.Errorf("middle at %v, want %v", got, want)
	}
	g := read[int64](t, f, Request{})
	least, most, ok := g.Range()
	if !ok || least != 188674 || most != 188743 {
		t.Errorf("keys %d to %d, want 188674 to 188743 (the data's README)", least, most)
	}
	zones, err := raster.Polygonise(context.Background(), g, raster.OutlineOptions{})
	if err != nil || len(zones) == 0 {
		t.Fatal(err)
	}
}

// TestRealKeys30m: unsigned keys, LZW, tiles; the share with a key is what gdal reports as valid.
func TestRealKeys30m(t *testing.T) {
	f := openReal(t, "raster-mukey", "ar017_mukey_30m_derived.tif")
	if crs, err := f.CRS(); err != nil || crs.String() != "EPSG:5070" {
		t.Errorf("%v, %v", crs, err)
	}
	g := read[uint32](t, f, Request{})
	if fr := g.Frame(); fr.Cols != 800 || fr.Rows != 1000 || fr.West != 423015 || fr.Y(fr.Rows) != 1120005 {
		t.Errorf("%+v", fr)
	}
	if n := g.Missing(); n == 0 || n == 800000 {
		t.Errorf("%d cells missing", n)
	}
	compareWithGDAL[uint32](t, f, filepath.Join(realData, "raster-mukey", "ar017_mukey_30m_derived.tif"), "uint32")
}

// TestRealHeights: heights on NAD27, in strips. The range and the share of valid cells are those of the data's README; the
// middle, that of gdalinfo, is brought to WGS 84 with PROJ 9.1.1:
// cs2cs -f %.9f +proj=utm +zone=15 +ellps=clrk66 +towgs84=-8,160,176 +to +proj=longlat +datum=WGS84.
func TestRealHeights(t *testing.T) {
	f := openReal(t, "dem", "dem_nad27_utm15n_feet.tif")
	crs, err := f.CRS()
	if err != nil || crs.String() != "EPSG:26715" || crs.FitForLines() == nil {
		t.Errorf("NAD27: %v, %v", crs, err)
	}
	fr, _ := f.Frame()
	got, ok := crs.ToLonLat(fr.Bound().Center())
	if want := (orb.Point{-91.310006568, 46.805420121}); !ok || math.Abs(got[0]-want[0]) > 1e-8 || math.Abs(got[1]-want[1]) > 1e-8 {
		t.Errorf("middle at %v (%v), want %v", got, ok, want)
	}
	g := read[float32](t, f, Request{})
	least, most, ok := g.Range()
	if !ok || math.Abs(float64(least)-685.9) > 0.05 || math.Abs(float64(most)-1081.1) > 0.05 {
		t.Errorf("heights %v to %v, want 685.9 to 1081.1", least, most)
	}
	if valid := 1 - float64(g.Missing())/(416*389); math.Abs(valid-0.924) > 0.0005 {
		t.Errorf("valid share %v, want 0.924", valid)
	}
	if _, ok := f.HeightUnit(); ok {
		t.Error("a unit of height out of nowhere")
	}
	compareWithGDAL[float32](t, f, filepath.Join(realData, "dem", "dem_nad27_utm15n_feet.tif"), "float32")
}

// compareWithGDAL compares every cell with GDAL's decode.
func compareWithGDAL[T raster.Number](t *testing.T, f *File, path, kind string) {
	t.Helper()
	needGDAL(t)
	raw := filepath.Join(t.TempDir(), "raw")
	run(t, "gdal_translate", "-q", "-of", "ENVI", path, raw)
	want, err := os.ReadFile(raw)
	if err != nil {
		t.Fatal(err)
	}
	if msg := compareFilled(f, 0, kind, want); msg != "" {
		t.Error(msg)
	}
}
