package web

import (
	"bytes"
	"context"
	"errors"
	"image/png"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
	"rootworthy/internal/job"
	"rootworthy/internal/run"
	"rootworthy/raster"
	"rootworthy/raster/geotiff"
	"rootworthy/suitability"
)

// ridges are heights in metres over the demonstration: rows of hills of 10 m, 400 m apart, that run from north to south.
func ridges(t testing.TB) *job.Heights {
	t.Helper()
	crs, err := proj.FromEPSG(4326)
	if err != nil {
		t.Fatal(err)
	}
	const cell = 0.0001
	g, err := raster.New[float32](raster.Frame{Cols: 400, Rows: 300, West: -78.21, North: 32.625, DX: cell, DY: cell, CRS: crs})
	if err != nil {
		t.Fatal(err)
	}
	for row := range 300 {
		for col := range 400 {
			g.Set(col, row, float32(5*math.Sin(float64(col)*cell*93_900/400*2*math.Pi)))
		}
	}
	var b bytes.Buffer
	if err := geotiff.Write(context.Background(), &b, []*raster.Grid[float32]{g}, geotiff.Options[float32]{Nodata: -9999}); err != nil {
		t.Fatal(err)
	}
	f, err := geotiff.Open("dem.tif", bytes.NewReader(b.Bytes()), int64(b.Len()), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	return &job.Heights{Name: "dem.tif", File: f, HeightMetres: 1}
}

// shadedSite serves the demonstration with a shader.
func shadedSite(t *testing.T, shade Shader) *site {
	dir := t.TempDir()
	if err := run.Write(dir, screenDemo(t, nil)); err != nil {
		t.Fatal(err)
	}
	s, err := New(Config{Program: "rootworthy test", Runs: []Source{{Name: "demo run", Files: os.DirFS(dir)}}, Shade: shade})
	if err != nil {
		t.Fatal(err)
	}
	return start(t, s)
}

// With heights the page says how the relief is drawn, lays a veil over the map that is dark where a slope turns from the
// sun and light where it faces it, and puts dots into the drawn map.
func TestReliefUnderTheZones(t *testing.T) {
	var light *job.Shading
	hills := ridges(t)
	s := shadedSite(t, func(ctx context.Context, r *suitability.Result, faults *diag.List) (_ *job.Shading, err error) {
		var shapes []orb.MultiPolygon
		for _, f := range r.Fields {
			shapes = append(shapes, f.Shape)
		}
		light, err = job.Shade(ctx, hills, shapes, faults)
		return light, err
	})
	_, page := s.get("/run/1/")
	if !strings.Contains(page, "data-relief=") || !strings.Contains(page, "heights drawn 10 times as high") || !strings.Contains(page, `id="f-relief"`) {
		t.Error("the page does not tell of the relief")
	}
	code, text := s.get("/run/1/relief.png")
	img, err := png.Decode(strings.NewReader(text))
	if err != nil || code != 200 {
		t.Fatalf("%d %v", code, err)
	}
	size, b := img.Bounds().Size(), light.Bound()
	if max(size.X, size.Y) != reliefPixels {
		t.Errorf("a picture of %v", size)
	}
	south, north := mercator(b.Min[1]), mercator(b.Max[1])
	dark, bright, clear := 0, 0, 0
	for y := 5; y < size.Y; y += 37 {
		for x := 5; x < size.X; x += 23 {
			at := orb.Point{b.Min[0] + (float64(x)+0.5)/float64(size.X)*(b.Max[0]-b.Min[0]), latitude(north - (float64(y)+0.5)/float64(size.Y)*(north-south))}
			v, ok := light.Light(at)
			r, _, _, a := img.At(x, y).RGBA()
			switch {
			case !ok || math.Abs(v-math.Sqrt2/2) < 0.01:
				clear++
				if a > 0x500 {
					t.Fatalf("a veil %x over level or unknown ground, light %v", a, v)
				}
			case v < math.Sqrt2/2:
				dark++
				if a == 0 || float64(r)/float64(a) > 0.2 {
					t.Fatalf("light %v, and the veil is %x of %x", v, r, a)
				}
			default:
				bright++
				if a == 0 || float64(r)/float64(a) < 0.9 {
					t.Fatalf("light %v, and the veil is %x of %x", v, r, a)
				}
			}
		}
	}
	if dark < 200 || bright < 200 {
		t.Errorf("%d dark places, %d bright, %d clear", dark, bright, clear)
	}
	_, plain := serve(t, nil).get("/run/1/map.svg?field=F1")
	if _, drawn := s.get("/run/1/map.svg?field=F1"); strings.Count(drawn, "<circle") < strings.Count(plain, "<circle")+50 && len(drawn) < len(plain)+2000 {
		t.Error("the drawn map has no relief")
	}
}

// Without heights nothing is said; heights that are of no use are told in words, and the page stands.
func TestNoRelief(t *testing.T) {
	s := serve(t, nil)
	if _, page := s.get("/run/1/"); strings.Contains(page, "relief") {
		t.Error("the page speaks of a relief")
	}
	if code, _ := s.get("/run/1/relief.png"); code != 404 {
		t.Errorf("a picture of nothing: %d", code)
	}
	for says, shade := range map[string]Shader{
		"cannot be drawn: the map is wet": func(context.Context, *suitability.Result, *diag.List) (*job.Shading, error) {
			return nil, errors.New("the map is wet")
		},
		"dem.tif: it lies elsewhere": func(_ context.Context, _ *suitability.Result, faults *diag.List) (*job.Shading, error) {
			faults.Notice(diag.Fault{File: "dem.tif", What: "it lies elsewhere"})
			return nil, nil
		},
	} {
		s := shadedSite(t, shade)
		if code, page := s.get("/run/1/"); code != 200 || !strings.Contains(page, says) || strings.Contains(page, "data-relief") {
			t.Errorf("%s: %d", says, code)
		}
		if code, _ := s.get("/run/1/relief.png"); code != 404 {
			t.Errorf("%s: a picture: %d", says, code)
		}
	}
}

// The plane of the map goes there and back.
func TestMercator(t *testing.T) {
	for _, lat := range []float64{-60, 0, 32.6, 84} {
		if got := latitude(mercator(lat)); math.Abs(got-lat) > 1e-10 {
			t.Errorf("%v comes back as %v", lat, got)
		}
	}
	// Source: EPSG Guidance Note 7-2, Popular Visualisation Pseudo Mercator: N = R ln tan(π/4 + φ/2); its worked example
	// is 24°22'54.433"N, N 2800000.00 m with R 6378137 (from memory, not checked).
	if got := 6378137 * mercator(24+22/60.+54.433/3600); math.Abs(got-2800000) > 1 {
		t.Errorf("%v m, want 2,800,000", got)
	}
}
