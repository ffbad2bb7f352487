package main

import (
	"bytes"
	"context"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rootworthy/internal/geo/proj"
	"rootworthy/raster"
	"rootworthy/raster/geotiff"
)

// hillFile writes invented heights in metres: rolling ground over a box that begins at a corner, or flat ground.
func hillFile(t *testing.T, west, north, swell float64) string {
	t.Helper()
	crs, err := proj.FromEPSG(4326)
	if err != nil {
		t.Fatal(err)
	}
	const cell = 1e-4 // some 10 m
	g, err := raster.New[float32](raster.Frame{Cols: 420, Rows: 280, West: west, North: north, DX: cell, DY: cell, CRS: crs})
	if err != nil {
		t.Fatal(err)
	}
	for row := range 280 {
		for col := range 420 {
			g.Set(col, row, float32(50+swell*math.Sin(float64(col)/12)*math.Cos(float64(row)/15)))
		}
	}
	var b bytes.Buffer
	if err := geotiff.Write(context.Background(), &b, []*raster.Grid[float32]{g}, geotiff.Options[float32]{Nodata: -9999}); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "hill.tif")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// Heights are drawn as strokes under the zones of every map, and zones stay readable: the fill of the largest zone still
// covers most of it, in its own colour.
func TestReportDrawsTheLieOfTheLand(t *testing.T) {
	dir := t.TempDir()
	must(t, exitDone, "demo", "--out", dir+"/demo")
	hills, flat := hillFile(t, -78.205, 32.625, 15), hillFile(t, -78.205, 32.625, 0)
	for name, file := range map[string]string{"hills": hills, "flat": flat} {
		must(t, exitDone, "report", dir+"/demo/run", "--out", dir+"/"+name, "--for", "landowner", "--elevation", file, "--elevation-unit", "m", "--maps", "svg")
	}
	must(t, exitDone, "report", dir+"/demo/run", "--out", dir+"/none", "--for", "landowner", "--maps", "svg")
	for _, m := range []string{"map-006-F6-class", "map-all-class"} {
		with, level, without := fileText(t, dir+"/hills/"+m+".svg"), fileText(t, dir+"/flat/"+m+".svg"), fileText(t, dir+"/none/"+m+".svg")
		// Flat ground is in full light, above the bound from which strokes are drawn, so the picture must be the same to the byte.
		if level != without {
			t.Errorf("%s: flat ground leaves marks", m)
		}
		// Strokes are paths, and many of them take far more room than the words that go with them.
		if len(with) < len(without)+5000 {
			t.Errorf("%s: hills leave hardly a mark", m)
		}
	}
	blue := color.RGBA{0x2c, 0x7f, 0xb8, 0xff} // suited, as the legend has it
	one := []string{"report", dir + "/demo/run", "--for", "technician", "--field", "F2", "--maps", "png", "--out"}
	must(t, exitDone, append(one, dir+"/plain")...)
	must(t, exitDone, append(one, dir+"/shaded", "--elevation", hills, "--elevation-unit", "m")...)
	before, after := share(t, dir+"/plain/map-001-F2-class.png", blue), share(t, dir+"/shaded/map-001-F2-class.png", blue)
	// Strokes take some of the colour, but most of it must stay, or the legend would no longer be read on the map.
	if after > before*0.99 || after < before*0.75 {
		t.Errorf("suited ground keeps its colour on %.0f %% of the picture, %.0f %% without relief", 100*after, 100*before)
	}
	if page := fileText(t, dir+"/hills/landowner.html"); strings.Count(page, "slopes in shade") < 7 {
		t.Error("captions do not say what the strokes are")
	}
}

// Heights of another place are told and drawn nowhere.
func TestReportWithHeightsOfAnotherPlace(t *testing.T) {
	dir := t.TempDir()
	must(t, exitDone, "demo", "--out", dir+"/demo")
	var stdout, stderr bytes.Buffer
	args := []string{"report", dir + "/demo/run", "--out", dir + "/report", "--for", "landowner", "--elevation", hillFile(t, -60, 40, 15), "--elevation-unit", "m"}
	if code := run(context.Background(), args, stdio{nil, &stdout, &stderr}); code != exitDone {
		t.Fatalf("exit code %d\n%s", code, &stderr)
	}
	if !strings.Contains(stdout.String()+stderr.String(), "no heights on the ground of these fields") || strings.Contains(fileText(t, dir+"/report/landowner.html"), "slopes in shade") {
		t.Errorf("not told, or a caption speaks of strokes:\n%s%s", &stdout, &stderr)
	}
}

// fileText is a file as text.
func fileText(t *testing.T, file string) string {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// share is how much of a picture has a colour, 0…1.
func share(t *testing.T, file string, want color.RGBA) float64 {
	t.Helper()
	im, err := png.Decode(strings.NewReader(fileText(t, file)))
	if err != nil {
		t.Fatal(err)
	}
	n, b := 0, im.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if r, g, bl, _ := im.At(x, y).RGBA(); uint8(r>>8) == want.R && uint8(g>>8) == want.G && uint8(bl>>8) == want.B {
				n++
			}
		}
	}
	return float64(n) / float64(b.Dx()*b.Dy())
}
