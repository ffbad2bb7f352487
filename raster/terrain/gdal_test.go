package terrain

import (
	"bytes"
	"context"
	"encoding/binary"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/raster"
	"rootworthy/raster/geotiff"
)

const realHeights = "../../../shared/data/dem/dem_nad27_utm15n_feet.tif"

// realGround reads a real height model of 416 × 389 cells of 8.8 m; its heights are feet.
func realGround(t testing.TB) (*raster.Grid[float64], Ground) {
	t.Helper()
	b, err := os.ReadFile(realHeights)
	if err != nil {
		t.Skipf("the real height model is not there: %v", err)
	}
	f, err := geotiff.Open("dem.tif", bytes.NewReader(b), int64(len(b)), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	return must[*raster.Grid[float64]](t)(geotiff.Read[float64](context.Background(), f, geotiff.Request{})),
		Ground{HeightMetres: 0.3048}
}

// TestAgainstGDAL compares slope and aspect of a real height model with gdaldem 3.6.2, cell by cell; it leaves out edges too.
func TestAgainstGDAL(t *testing.T) {
	z, g := realGround(t)
	if _, err := exec.LookPath("gdaldem"); err != nil {
		if os.Getenv("NEED_GDAL") != "" {
			t.Fatal("NEED_GDAL is set, but gdal-bin is missing")
		}
		t.Skip("needs gdal-bin")
	}
	for name, tc := range map[string]struct {
		args []string
		make func(context.Context, *raster.Grid[float64], Ground) (*raster.Grid[float64], error)
		turn float64
	}{
		"slope":  {[]string{"-p", "-s", "3.280839895013123"}, Slope[float64], 0},
		"aspect": {nil, Aspect[float64], 360},
	} {
		slope := must[*raster.Grid[float64]](t)(Slope(context.Background(), z, g))
		raw := filepath.Join(t.TempDir(), "raw")
		if out, err := exec.Command("gdaldem", append([]string{name, realHeights, raw, "-of", "ENVI", "-q"}, tc.args...)...).CombinedOutput(); err != nil {
			t.Fatalf("%v %s", err, out)
		}
		want, err := os.ReadFile(raw)
		if err != nil {
			t.Fatal(err)
		}
		got := must[*raster.Grid[float64]](t)(tc.make(context.Background(), z, g))
		compared := 0
		for r := range 389 {
			for c := range 416 {
				w := float64(math.Float32frombits(binary.LittleEndian.Uint32(want[4*(r*416+c):])))
				v, ok := got.At(c, r)
				if ok != (w != -9999) {
					t.Fatalf("%s column %d, row %d: %v (%v), gdaldem %v", name, c, r, v, ok, w)
				}
				// gdaldem sums heights near 1000 in float32, four at a time: 2e-4 ft off. Over 8 cells of 8.8 m that is
				// 1e-4 % of slope, and turns a slope of 1 % by 0.02 degrees and more, a gentler one further.
				d, most := v-w, 1e-3
				if tc.turn > 0 {
					percent, _ := slope.At(c, r)
					d, most = math.Remainder(d, tc.turn), 1e-3+0.04/percent
				}
				if ok && !(math.Abs(d) <= most) {
					t.Errorf("%s column %d, row %d: %v, gdaldem %v, %v apart, at most %v", name, c, r, v, w, d, most)
				}
				compared++
			}
		}
		if compared != 389*416 || got.Missing() > 20000 {
			t.Errorf("%s: %d cells compared, %d missing", name, compared, got.Missing())
		}
	}
}

// TestRealGround: on real ground the index is finite and within what one sees of it, and hollows are where water stands.
func TestRealGround(t *testing.T) {
	z, g := realGround(t)
	w := must[Wet](t)(Wetness(context.Background(), z, g, WetnessOptions{}))
	least, most, ok := w.Index.Range()
	if !ok || least < 0 || most > 30 {
		t.Errorf("index %v to %v", least, most)
	}
	all, depth, err := Depressions(context.Background(), z, g, DepressionOptions{MinDepth: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	volume := 0.0
	for i, d := range all {
		volume += d.Volume
		if d.Depth < 0.3 || d.Volume > d.Depth*d.Area*(1+1e-12) || i > 0 && d.Area == 0 {
			t.Errorf("%+v", d)
		}
	}
	sum := 0.0
	for r := range 389 {
		for c := range 416 {
			v, _ := depth.At(c, r)
			sum += v * z.Frame().DX * z.Frame().DY
		}
	}
	if len(all) == 0 || math.Abs(sum-volume) > 1e-9*volume {
		t.Errorf("%d hollows of %v m³, depths make %v", len(all), volume, sum)
	}
}

// BenchmarkTerrain measures ground of 1,000 × 1,000 cells.
func BenchmarkTerrain(b *testing.B) {
	z := plane(b, 1000, 1000, func(x, y float64) float64 {
		return 300 + x/200 + 8*math.Sin(x/90)*math.Cos(y/130) + math.Sin(x/7+y/5)/3
	})
	ctx := context.Background()
	for name, do := range map[string]func() error{
		"slope":       func() error { _, err := Slope(ctx, z, Ground{}); return err },
		"wetness":     func() error { _, err := Wetness(ctx, z, Ground{}, WetnessOptions{}); return err },
		"depressions": func() error { _, _, err := Depressions(ctx, z, Ground{}, DepressionOptions{}); return err },
		"cold air":    func() error { _, err := ColdAir(ctx, z, Ground{}, ColdAirOptions{}); return err },
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := do(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
