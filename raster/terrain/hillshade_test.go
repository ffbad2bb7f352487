package terrain

import (
	"context"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"rootworthy/raster"
)

// TestHillshadeOfPlanes: a plane that falls in any direction is lit by the law of the doc comment, written with angles as
// in the handbooks; level ground by the sine of the sun's height; a plane at right angles to the sun fully.
func TestHillshadeOfPlanes(t *testing.T) {
	light := func(fall, percent float64, sun Sun) float64 {
		sin, cos := math.Sincos(fall * math.Pi / 180)
		z := plane(t, 3, 3, func(x, y float64) float64 { return -percent / 100 * (x*sin + y*cos) })
		v, ok := must[*raster.Grid[float64]](t)(Hillshade(context.Background(), z, Ground{}, sun)).At(1, 1)
		if !ok {
			t.Fatal("no light on a whole neighbourhood")
		}
		return v
	}
	for fall := 0.0; fall < 360; fall += 15 {
		for _, percent := range []float64{3, 20, 100, 300} {
			for _, sun := range []Sun{{}, {Azimuth: 315, Altitude: 45}, {Azimuth: 90, Altitude: 30, Exaggeration: 5}} {
				a, h, e := sun.Azimuth, sun.Altitude, math.Max(sun.Exaggeration, 1)
				if h == 0 {
					a, h = 315, 45
				}
				s, z := math.Atan(e*percent/100), (90-h)*math.Pi/180
				want := math.Max(0, math.Cos(z)*math.Cos(s)+math.Sin(z)*math.Sin(s)*math.Cos((a-fall)*math.Pi/180))
				if got := light(fall, percent, sun); math.Abs(got-want) > 1e-12 {
					t.Errorf("falls to %v by %v %%, %+v: light %v, want %v", fall, percent, sun, got, want)
				}
			}
		}
	}
	if got := light(0, 0, Sun{}); math.Abs(got-math.Sqrt2/2) > 1e-15 {
		t.Errorf("level ground: %v", got)
	}
	if got := light(315, 100, Sun{}); math.Abs(got-1) > 1e-12 {
		t.Errorf("a slope of 45 degrees that faces the sun: %v", got)
	}
	if got := light(135, 300, Sun{}); got != 0 {
		t.Errorf("a steep slope that faces away: %v", got)
	}
}

// TestHillshadeRefusals: a sun that cannot be is refused, and so are cells without a size.
func TestHillshadeRefusals(t *testing.T) {
	z := plane(t, 3, 3, func(x, y float64) float64 { return x })
	for _, sun := range []Sun{{Altitude: 91}, {Altitude: -5}, {Altitude: math.NaN()}, {Azimuth: math.Inf(1), Altitude: 45}, {Exaggeration: -1}} {
		if _, err := Hillshade(context.Background(), z, Ground{}, sun); err == nil {
			t.Errorf("%+v was taken", sun)
		}
	}
}

// TestHillshadeAgainstGDAL compares the light on a real height model with gdaldem 3.6.2, which writes 1 + 254 light as a
// byte: cut off there, so that it may be one off, and by its float32 gradients one more beside a whole number.
func TestHillshadeAgainstGDAL(t *testing.T) {
	z, g := realGround(t)
	if _, err := exec.LookPath("gdaldem"); err != nil {
		if os.Getenv("NEED_GDAL") != "" {
			t.Fatal("NEED_GDAL is set, but gdal-bin is missing")
		}
		t.Skip("needs gdal-bin")
	}
	for name, tc := range map[string]struct {
		args []string
		sun  Sun
	}{
		"of maps":    {nil, Sun{}},
		"in the low": {[]string{"-az", "100", "-alt", "20", "-z", "3"}, Sun{Azimuth: 100, Altitude: 20, Exaggeration: 3}},
	} {
		raw := filepath.Join(t.TempDir(), "raw")
		args := append([]string{"hillshade", realHeights, raw, "-of", "ENVI", "-q", "-s", "3.280839895013123"}, tc.args...)
		if out, err := exec.Command("gdaldem", args...).CombinedOutput(); err != nil {
			t.Fatalf("%v %s", err, out)
		}
		want, err := os.ReadFile(raw)
		if err != nil {
			t.Fatal(err)
		}
		got := must[*raster.Grid[float64]](t)(Hillshade(context.Background(), z, g, tc.sun))
		if len(want) != 389*416 {
			t.Fatalf("gdaldem wrote %d bytes", len(want))
		}
		seen := map[byte]bool{}
		for i, w := range want {
			v, ok := got.At(i%416, i/416)
			if ok != (w != 0) || ok && math.Abs(1+254*v-float64(w)) > 1.01 {
				t.Fatalf("%s, column %d, row %d: light %v (%v), gdaldem %d", name, i%416, i/416, v, ok, w)
			}
			seen[w] = true
		}
		if len(seen) < 50 {
			t.Errorf("%s: only %d kinds of light", name, len(seen))
		}
	}
}

// TestBetweenIsLinear: between the middles of cells of a plane the value is that of the plane, and a missing cell has none.
func TestBetweenIsLinear(t *testing.T) {
	z := plane(t, 6, 5, func(x, y float64) float64 { return 2*x - 3*y })
	f := z.Frame()
	for _, p := range [][2]float64{{12, 17}, {33.3, 21.9}, {25, 25}} {
		got, ok := z.Between([2]float64{f.West + p[0], f.Y(f.Rows) + p[1]})
		if want := 2*p[0] - 3*p[1]; !ok || math.Abs(got-want) > 1e-8 {
			t.Errorf("at %v: %v (%v), want %v", p, got, ok, want)
		}
	}
	z.Unset(2, 2)
	if _, ok := z.Between(f.Center(2, 2)); ok {
		t.Error("a missing cell has a value")
	}
	if _, ok := z.Between([2]float64{f.West - 1, f.North}); ok {
		t.Error("a value outside the grid")
	}
}
