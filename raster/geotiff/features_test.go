package geotiff

import (
	"context"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/raster"
)

// made writes a small raster with GDAL and opens it: 60 × 40 cells of 10 m, values column + 100·row, turned into what the
// options ask for.
func made(t *testing.T, options ...string) (*File, string) {
	t.Helper()
	needGDAL(t)
	dir := t.TempDir()
	var asc strings.Builder
	asc.WriteString("ncols 60\nnrows 40\nxllcorner 500000\nyllcorner 4000000\ncellsize 10\n")
	for r := range 40 {
		for c := range 60 {
			asc.WriteString(" ")
			asc.WriteString(strconv.Itoa(c + 100*r))
		}
		asc.WriteString("\n")
	}
	if err := os.WriteFile(filepath.Join(dir, "a.asc"), []byte(asc.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "a.tif")
	run(t, "gdal_translate", append([]string{"-q"}, append(options, filepath.Join(dir, "a.asc"), path)...)...)
	f, _ := openFile(t, path)
	return f, path
}

func read[T raster.Number](t *testing.T, f *File, q Request) *raster.Grid[T] {
	t.Helper()
	g, err := Read[T](context.Background(), f, q)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// TestPlace: corner and cell size are those GDAL was told, whether the file says area or point.
func TestPlace(t *testing.T) {
	for _, opt := range [][]string{
		{"-a_srs", "EPSG:26915"},
		{"-a_srs", "EPSG:26915", "-mo", "AREA_OR_POINT=Point"},
		{"-a_srs", "EPSG:26915", "-co", "GEOTIFF_VERSION=1.1"},
	} {
		f, _ := made(t, opt...)
		fr, err := f.Frame()
		if err != nil || fr.West != 500000 || fr.North != 4000400 || fr.DX != 10 || fr.DY != 10 {
			t.Errorf("%v: %+v, %v", opt, fr, err)
		}
		if crs, err := f.CRS(); err != nil || crs.String() != "EPSG:26915" {
			t.Errorf("%v: %v, %v", opt, crs, err)
		}
	}
}

// TestSpelledOut: systems without a code, as GDAL spells them, are the ones GDAL means. The expected middle of the raster is
// what gdaltransform 3.6.2 gives for 500300, 4000200.
func TestSpelledOut(t *testing.T) {
	const old = "+ellps=clrk66 +towgs84=-8,160,176" // NAD27 as GDAL has to be told for EPSG:1173 to count
	for name, tc := range map[string]string{
		"Lambert, NAD27":  "+proj=lcc +lat_0=33 +lon_0=-93 +lat_1=34 +lat_2=37 +x_0=500000 +y_0=3600000 +datum=NAD27 +units=m",
		"Mercator, NAD27": "+proj=tmerc +lat_0=0 +lon_0=-91.5 +k=0.9996 +x_0=500000 +datum=NAD27 +units=m",
		"Albers":          "+proj=aea +lat_0=23 +lon_0=-96 +lat_1=29.5 +lat_2=45.5 +datum=NAD83 +units=m",
		"Lambert":         "+proj=lcc +lat_0=40 +lon_0=-93 +lat_1=41 +lat_2=43 +x_0=500000 +y_0=1000000 +datum=NAD83 +units=m",
		"Mercator":        "+proj=tmerc +lat_0=0 +lon_0=-91.5 +k=0.9996 +x_0=500000 +datum=WGS84 +units=m",
		"Lambert in feet": "+proj=lcc +lat_0=40 +lon_0=-93 +lat_1=41 +lat_2=43 +x_0=500000 +y_0=0 +datum=NAD83 +units=us-ft",
		"azimuthal":       "+proj=laea +lat_0=36 +lon_0=-92 +x_0=400000 +y_0=3900000 +datum=WGS84 +units=m",
	} {
		f, path := made(t, "-a_srs", tc)
		crs, err := f.CRS()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		got, ok := crs.ToLonLat(orb.Point{500300, 4000200})
		from, to := wktOf(t, path), "+proj=longlat +datum=NAD83"
		if strings.Contains(tc, "NAD27") {
			// by the operation and not by the one that GDAL finds best, which depends on what grids are installed
			from, to = strings.Replace(tc, "+datum=NAD27", old, 1), "+proj=longlat +datum=WGS84"
		}
		want := strings.Fields(run(t, "sh", "-c", `echo 500300 4000200 | gdaltransform -s_srs "$1" -t_srs "$2"`, "sh", from, to))
		if len(want) < 2 || !ok || !(math.Abs(got[0]-float(want[0])) < 1e-8 && math.Abs(got[1]-float(want[1])) < 1e-8) {
			t.Errorf("%s: %v (%v), GDAL says %v", name, got, ok, want)
		}
	}
}

func wktOf(t *testing.T, path string) string {
	return strings.TrimSpace(run(t, "gdalsrsinfo", "-o", "wkt1", path))
}

func float(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// TestNodataScaleUnit: no-data value, scale, offset and unit as GDAL stores them.
func TestNodataScaleUnit(t *testing.T) {
	f, _ := made(t, "-ot", "Int16", "-a_nodata", "100", "-a_scale", "0.5", "-a_offset", "-10")
	if b := f.Bands()[0]; b.Scale != 0.5 || b.Offset != -10 || b.Nodata != "100" || b.Type.String() != "int16" {
		t.Errorf("band %+v", b)
	}
	g := read[float32](t, f, Request{})
	if v, ok := g.At(7, 3); !ok || v != 307*0.5-10 {
		t.Errorf("got %v (%v)", v, ok)
	}
	if _, ok := g.At(0, 1); ok || g.Missing() != 1 {
		t.Errorf("%d cells missing, want the one of 100", g.Missing())
	}
	if _, err := Read[int64](context.Background(), f, Request{}); err == nil || !strings.Contains(err.Error(), "as floats") {
		t.Errorf("a scaled band was read as integers: %v", err)
	}
}

// TestOverviewsAndWindow: overviews of a COG by GDAL, each level read in part equals the part of the whole.
func TestOverviewsAndWindow(t *testing.T) {
	needGDAL(t)
	dir := t.TempDir()
	_, path := made(t)
	cog := filepath.Join(dir, "cog.tif")
	run(t, "gdal_translate", "-q", "-of", "COG", "-outsize", "900", "700", "-r", "bilinear", "-a_srs", "EPSG:26915", "-ot", "Float32",
		"-co", "BLOCKSIZE=128", "-co", "COMPRESS=ZSTD", "-co", "PREDICTOR=YES", path, cog)
	f, faults := openFile(t, cog)
	levels := f.Levels()
	if len(levels) < 3 || levels[1].Cols != 450 || levels[1].DX != 2*levels[0].DX {
		t.Fatalf("levels %+v", levels)
	}
	for i, fr := range levels[:3] {
		raw := filepath.Join(dir, "raw")
		args := []string{"-q", "-of", "ENVI", cog, raw}
		if i > 0 {
			args = append([]string{"-oo", "OVERVIEW_LEVEL=" + strconv.Itoa(i-1)}, args...)
		}
		run(t, "gdal_translate", args...)
		b, err := os.ReadFile(raw)
		if err != nil {
			t.Fatal(err)
		}
		w := raster.Window{Col: fr.Cols / 3, Row: fr.Rows / 4, Cols: fr.Cols / 2, Rows: fr.Rows / 3}
		g := read[float32](t, f, Request{Level: i, Window: w})
		for r := range w.Rows {
			for c := range w.Cols {
				want := math.Float32frombits(binary.LittleEndian.Uint32(b[4*((w.Row+r)*fr.Cols+w.Col+c):]))
				if v, ok := g.At(c, r); !ok || v != want {
					t.Fatalf("level %d column %d, row %d: %v (%v), want %v", i, c, r, v, ok, want)
				}
			}
		}
		if x, y := g.Frame().West, g.Frame().North; x != fr.X(w.Col) || y != fr.Y(w.Row) {
			t.Errorf("level %d: window at %v, %v", i, x, y)
		}
	}
	if s := faults.String(); s != "" {
		t.Error(s)
	}
}

// TestMaskAndSparse: GDAL's own mask of one bit makes cells missing, and so do tiles that were left out.
func TestMaskAndSparse(t *testing.T) {
	needGDAL(t)
	path := filepath.Join(t.TempDir(), "m.tif")
	run(t, python, "-c", `
import sys, numpy as np
from osgeo import gdal
gdal.UseExceptions(); gdal.SetConfigOption('GDAL_TIFF_INTERNAL_MASK', 'YES')
ds = gdal.GetDriverByName('GTiff').Create(sys.argv[1], 200, 100, 1, gdal.GDT_UInt16, options=['TILED=YES', 'BLOCKXSIZE=64', 'BLOCKYSIZE=64', 'SPARSE_OK=TRUE', 'COMPRESS=DEFLATE'])
ds.SetGeoTransform((0, 1, 0, 0, 0, -1)); ds.CreateMaskBand(gdal.GMF_PER_DATASET)
b = ds.GetRasterBand(1); b.SetNoDataValue(7); b.WriteArray(np.full((50, 60), 9, np.uint16), 0, 0)
m = np.full((100, 200), 255, np.uint8); m[10:20, 30:41] = 0; b.GetMaskBand().WriteArray(m)
`, path)
	f, faults := openFile(t, path)
	g := read[uint16](t, f, Request{})
	for r := range 100 {
		for c := range 200 {
			v, ok := g.At(c, r)
			written := c < 60 && r < 50
			if want := written && !(r >= 10 && r < 20 && c >= 30 && c < 41); ok != want || ok && v != 9 {
				t.Fatalf("column %d, row %d: %v (%v), want %v", c, r, v, ok, want)
			}
		}
	}
	if s := faults.String(); s != "" {
		t.Error(s)
	}
}

// TestOldDeflateCode: 32946 is deflate under its first number.
func TestOldDeflateCode(t *testing.T) {
	g := hills[int16](t, frame(t, 40, 30), -1, 100)
	b := written(t, []*raster.Grid[int16]{g}, Options[int16]{Nodata: -1, Tile: 32})
	patch(t, b, tagCompression, compressDeflateOld)
	if err := same(read[int16](t, reopened(t, b), Request{}), g); err != nil {
		t.Error(err)
	}
}

// patch sets the value of a tag of the first directory of a file that Write made.
func patch(t testing.TB, b []byte, tag uint16, v uint32) {
	t.Helper()
	le := binary.LittleEndian
	for i := range int(le.Uint16(b[8:])) {
		if e := b[10+12*i:]; le.Uint16(e) == tag {
			le.PutUint32(e[8:], v)
			return
		}
	}
	t.Fatalf("no tag %d", tag)
}

// TestMatrix: a place given as a matrix is taken; a turned one is refused with its tag.
func TestMatrix(t *testing.T) {
	needGDAL(t)
	for _, tc := range []struct{ turn, want string }{{"0", ""}, {"0.5", "turned or sheared"}} {
		path := filepath.Join(t.TempDir(), "m.tif")
		run(t, python, "-c", `
import sys
from osgeo import gdal
ds = gdal.GetDriverByName('GTiff').Create(sys.argv[1], 20, 10, 1, gdal.GDT_Byte)
ds.SetGeoTransform((300, 2, float(sys.argv[2]), 400, 0, -3))
`, path, tc.turn)
		f, _ := openFile(t, path)
		fr, err := f.Frame()
		if tc.want == "" && (err != nil || fr.West != 300 || fr.North != 400 || fr.DX != 2 || fr.DY != 3) {
			t.Errorf("%+v, %v", fr, err)
		}
		if tc.want != "" && (err == nil || !strings.Contains(err.Error(), tc.want) || !strings.Contains(err.Error(), "34264")) {
			t.Errorf("got %v", err)
		}
		if _, err := Read[uint8](context.Background(), f, Request{}); (err != nil) != (tc.want != "") {
			t.Errorf("turn %s: reading says %v", tc.turn, err)
		}
	}
}
