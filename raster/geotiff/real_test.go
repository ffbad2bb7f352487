package geotiff

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
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

// TestRealHeights: NAD27 is refused in a sentence of its own; heights are read all the same. The range and the share of
// valid cells are those of the data's README.
func TestRealHeights(t *testing.T) {
	f := openReal(t, "dem", "dem_nad27_utm15n_feet.tif")
	if _, err := f.CRS(); err == nil || !strings.Contains(err.Error(), "26715") || !strings.Contains(err.Error(), "dem_nad27") {
		t.Errorf("NAD27: %v", err)
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
