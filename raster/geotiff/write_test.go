package geotiff

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
	"rootworthy/raster"
)

// frame is a piece of open sea south of Iceland, so that nobody's ground is meant; cells of a second of arc.
func frame(t testing.TB, cols, rows int) raster.Frame {
	t.Helper()
	crs, err := proj.FromEPSG(4326)
	if err != nil {
		t.Fatal(err)
	}
	return raster.Frame{Cols: cols, Rows: rows, West: -20, North: 60, DX: 1. / 3600, DY: 1. / 3600, CRS: crs}
}

// hills makes values of any type that use much of its range, every seventh missing.
func hills[T raster.Number](t testing.TB, f raster.Frame, nodata T, scale float64) *raster.Grid[T] {
	t.Helper()
	g, err := raster.New[T](f)
	if err != nil {
		t.Fatal(err)
	}
	for r := range f.Rows {
		for c := range f.Cols {
			v := T(scale * (1.01 + math.Sin(float64(c)/9)*math.Cos(float64(r)/7)))
			if (c+3*r)%7 != 0 && v != nodata {
				g.Set(c, r, v)
			}
		}
	}
	return g
}

func written[T raster.Number](t testing.TB, bands []*raster.Grid[T], opt Options[T]) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(context.Background(), &b, bands, opt); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func reopened(t testing.TB, b []byte) *File {
	t.Helper()
	f, err := Open("written.tif", bytes.NewReader(b), int64(len(b)), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// same compares grids cell by cell.
func same[T raster.Number](a, b *raster.Grid[T]) error {
	f, h := a.Frame(), b.Frame()
	if f.Cols != h.Cols || f.Rows != h.Rows || f.West != h.West || f.North != h.North || f.DX != h.DX || f.DY != h.DY || f.CRS.String() != h.CRS.String() {
		return fmt.Errorf("frames %v and %v", f, h)
	}
	for r := range f.Rows {
		for c := range f.Cols {
			v, ok := a.At(c, r)
			w, also := b.At(c, r)
			if v != w || ok != also {
				return fmt.Errorf("column %d, row %d: %v (%v) and %v (%v)", c, r, v, ok, w, also)
			}
		}
	}
	return nil
}

func roundTrip[T raster.Number](t *testing.T, nodata T, scale float64, m raster.Method) {
	f := frame(t, 150, 70)
	bands := []*raster.Grid[T]{hills(t, f, nodata, scale), hills(t, f, nodata, scale/2)}
	b := written(t, bands, Options[T]{Nodata: nodata, Tile: 32, Overviews: m})
	if !bytes.Equal(b, written(t, bands, Options[T]{Nodata: nodata, Tile: 32, Overviews: m})) {
		t.Errorf("%T: two writings differ", nodata)
	}
	file := reopened(t, b)
	if got, want := len(file.Levels()), 4; got != want { // 150, 75, 38, 19
		t.Errorf("%T: %d levels, want %d", nodata, got, want)
	}
	for i, want := range bands {
		got, err := Read[T](context.Background(), file, Request{Band: i})
		if err != nil {
			t.Fatal(err)
		}
		if err := same(got, want); err != nil {
			t.Errorf("%T band %d: %v", nodata, i, err)
		}
		half, _ := raster.Halve(want, m)
		level, err := Read[T](context.Background(), file, Request{Band: i, Level: 1})
		if err != nil {
			t.Fatal(err)
		}
		for r := range half.Frame().Rows {
			for c := range half.Frame().Cols {
				v, ok := level.At(c, r)
				if w, has := half.At(c, r); v != w || ok != has {
					t.Fatalf("%T overview column %d, row %d: %v (%v), want %v (%v)", nodata, c, r, v, ok, w, has)
				}
			}
		}
	}
}

// TestRoundTrip: what is written is read back, in every type.
func TestRoundTrip(t *testing.T) {
	roundTrip[uint8](t, 255, 120, raster.Nearest)
	roundTrip[int8](t, -128, 60, raster.Nearest)
	roundTrip[uint16](t, 0, 3e4, raster.Nearest)
	roundTrip[int16](t, -9999, 1.6e4, raster.Nearest)
	roundTrip[uint32](t, 0, 2e9, raster.Nearest)
	roundTrip[int32](t, -1, 1e9, raster.Nearest)
	roundTrip[uint64](t, math.MaxUint64, 9e18, raster.Nearest)
	roundTrip[int64](t, math.MinInt64, 4e18, raster.Nearest)
	roundTrip[float32](t, -9999, 5, raster.Average)
	roundTrip[float64](t, -9999, 5e-3, raster.Average)
}

// TestBigTIFF: the wide layout, which otherwise needs 4 GB, is read back too.
func TestBigTIFF(t *testing.T) {
	g := hills[int16](t, frame(t, 100, 40), -1, 100)
	shot, err := tile(context.Background(), []*raster.Grid[int16]{g}, Options[int16]{Tile: 32, Nodata: -1})
	if err != nil {
		t.Fatal(err)
	}
	place, _ := placeTags(g.Frame())
	shot.tags = append(append(shot.tags, valueTags(Options[int16]{Tile: 32, Nodata: -1}, false, 1)...), place...)
	l := plan([]picture{shot}, true)
	b := append(l.header(), l.directory(0)...)
	for _, x := range shot.tiles {
		b = append(b, x...)
		b = append(b, make([]byte, len(x)%2)...)
	}
	if int64(len(b)) != l.end {
		t.Errorf("%d bytes, planned %d", len(b), l.end)
	}
	got, err := Read[int16](context.Background(), reopened(t, b), Request{})
	if err != nil {
		t.Fatal(err)
	}
	if err := same(got, g); err != nil {
		t.Error(err)
	}
}

// Each would give a file that says something else than the grids, or that readers do not take.
func TestNotWritable(t *testing.T) {
	f := frame(t, 3, 2)
	g, _ := raster.FromCells(f, []float32{0, 1, 2, 3, 4, 5}, nil)
	noCode := f
	noCode.CRS = proj.CRS{}
	lost, _ := raster.FromCells(noCode, []float32{0, 1, 2, 3, 4, 5}, nil)
	wide, _ := raster.FromCells(frame(t, 6, 1), []float32{0, 1, 2, 3, 4, 5}, nil)
	for want, call := range map[string]func() error{
		"column 2, row 1 holds 5": func() error {
			return Write(context.Background(), &bytes.Buffer{}, []*raster.Grid[float32]{g}, Options[float32]{Nodata: 5})
		},
		"EPSG code": func() error {
			return Write(context.Background(), &bytes.Buffer{}, []*raster.Grid[float32]{lost}, Options[float32]{Nodata: -1})
		},
		"other cells": func() error {
			return Write(context.Background(), &bytes.Buffer{}, []*raster.Grid[float32]{g, wide}, Options[float32]{Nodata: -1})
		},
		"multiple of 16": func() error {
			return Write(context.Background(), &bytes.Buffer{}, []*raster.Grid[float32]{g}, Options[float32]{Nodata: -1, Tile: 100})
		},
		"0 bands": func() error { return Write[float32](context.Background(), &bytes.Buffer{}, nil, Options[float32]{}) },
		"not a finite": func() error {
			return Write(context.Background(), &bytes.Buffer{}, []*raster.Grid[float32]{g}, Options[float32]{Nodata: float32(math.NaN())})
		},
	} {
		if err := call(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
}

// TestWrittenForGDAL: GDAL, its validator of cloud-optimised files and the checker beside the repository take what we write:
// classes in a byte, and rates as floats.
func TestWrittenForGDAL(t *testing.T) {
	needGDAL(t)
	checker := "../../../shared/checks/cog.py"
	if _, err := os.Stat(checker); err != nil {
		t.Skipf("the checker is not there: %v", err)
	}
	f := frame(t, 700, 530)
	classes := written(t, []*raster.Grid[uint8]{hills[uint8](t, f, 255, 1.2)}, Options[uint8]{Nodata: 255,
		Names: []string{"class"}, Legend: []Label[uint8]{{0, "unsuited"}, {1, "marginal & wet"}, {2, "suited"}}})
	rates := hills[float32](t, f, -9999, 5)
	two := written(t, []*raster.Grid[float32]{rates, hills[float32](t, f, -9999, 2)}, Options[float32]{Nodata: -9999, Tile: 512,
		Overviews: raster.Average, Names: []string{"lime", "gypsum"}, Units: []string{"t/ha", "t/ha"}})
	for name, args := range map[string][]string{
		"classes.tif": {"--epsg", "4326", "--nodata", "255", "--min", "0", "--max", "2", "--bands", "1"},
		"rates.tif":   {"--epsg", "4326", "--nodata=-9999", "--min", "0", "--max", "11", "--bands", "2"},
	} {
		path := filepath.Join(t.TempDir(), name)
		data := classes
		if name == "rates.tif" {
			data = two
		}
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(python, append([]string{checker, path, "--within=-20.01,59.8,-19.8,60.01"}, args...)...).CombinedOutput()
		if err != nil || strings.Contains(string(out), "WARN") {
			t.Errorf("%s: %v\n%s", name, err, out)
		}
		info := run(t, "gdalinfo", path)
		for _, want := range map[string][]string{
			"classes.tif": {"Description = class", "VALUE_1=marginal & wet"},
			"rates.tif":   {"Description = gypsum", "Unit Type: t/ha"},
		}[name] {
			if !strings.Contains(info, want) {
				t.Errorf("%s: gdalinfo does not say %q:\n%s", name, want, info)
			}
		}
		raw := filepath.Join(t.TempDir(), "raw")
		run(t, "gdal_translate", "-q", "-of", "ENVI", "-co", "INTERLEAVE=BSQ", path, raw)
		back, err := os.ReadFile(raw)
		if err != nil {
			t.Fatal(err)
		}
		file := reopened(t, data)
		for band := range file.Bands() {
			kind := map[bool]string{true: "uint8", false: "float32"}[name == "classes.tif"]
			part := back[band*len(back)/len(file.Bands()) : (band+1)*len(back)/len(file.Bands())]
			if msg := compareFilled(file, band, kind, part); msg != "" {
				t.Errorf("%s: %s", name, msg)
			}
		}
	}
}
