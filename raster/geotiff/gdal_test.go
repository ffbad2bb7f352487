package geotiff

import (
	"bytes"
	"context"
	"encoding/binary"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/raster"
)

// every thins out the combinations; with NEED_GDAL set, as in CI, all are read.
var every = flag.Int("every", 0, "write every n-th combination of types, compressions and blocks; 0 means 41, or 1 with NEED_GDAL")

const python = "/usr/bin/python3" // the one that sees Debian's python3-gdal

// needGDAL skips where GDAL is not installed, unless the environment says that it must be.
func needGDAL(t testing.TB) {
	t.Helper()
	err := exec.Command(python, "-c", "from osgeo import gdal; import numpy").Run()
	if _, missing := exec.LookPath("gdal_translate"); err == nil && missing == nil {
		return
	}
	if os.Getenv("NEED_GDAL") != "" {
		t.Fatal("NEED_GDAL is set, but gdal-bin or python3-gdal is missing")
	}
	t.Skip("needs gdal-bin and python3-gdal")
}

// run runs a program and returns what it prints.
func run(t testing.TB, name string, args ...string) string {
	t.Helper()
	var stderr bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %s: %v\n%.2000s%.2000s", name, strings.Join(args, " "), err, out, stderr.String())
	}
	return string(out)
}

func openFile(t testing.TB, path string) (*File, *diag.List) {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	faults := &diag.List{}
	f, err := Open(filepath.Base(path), bytes.NewReader(b), int64(len(b)), faults)
	if err != nil {
		t.Fatal(err)
	}
	return f, faults
}

// TestCombinations: every cell of every combination that GDAL writes is the one that GDAL 3.6 reads.
func TestCombinations(t *testing.T) {
	needGDAL(t)
	step := *every
	if step == 0 {
		if step = 41; os.Getenv("NEED_GDAL") != "" {
			step = 1
		}
	}
	dir := t.TempDir()
	n := 0
	for line := range strings.Lines(run(t, python, "testdata/combinations.py", dir, strconv.Itoa(step))) {
		var name, kind string
		var cols, rows, bands int
		if _, err := fmt.Sscan(line, &name, &kind, &cols, &rows, &bands); err != nil {
			t.Errorf("GDAL did not write it: %s", line)
			continue
		}
		n++
		want, err := os.ReadFile(filepath.Join(dir, name+".raw"))
		if err != nil {
			t.Fatal(err)
		}
		f, faults := openFile(t, filepath.Join(dir, name))
		for band := range bands {
			if msg := compareRaw(f, band, kind, want[band*len(want)/bands:(band+1)*len(want)/bands]); msg != "" {
				t.Errorf("%s band %d: %s", name, band, msg)
			}
		}
		if s := faults.String(); s != "" {
			t.Errorf("%s: %s", name, s)
		}
	}
	if n < 5364/step-1 {
		t.Errorf("only %d combinations were compared", n)
	}
}

// compareRaw reads a band and says where it differs from raw values of a numpy type.
func compareRaw(f *File, band int, kind string, want []byte) string {
	le := binary.LittleEndian
	switch kind {
	case "uint8":
		return compareCells(f, band, len(want), func(i int) uint8 { return want[i] })
	case "int8":
		return compareCells(f, band, len(want), func(i int) int8 { return int8(want[i]) })
	case "uint16":
		return compareCells(f, band, len(want)/2, func(i int) uint16 { return le.Uint16(want[2*i:]) })
	case "int16":
		return compareCells(f, band, len(want)/2, func(i int) int16 { return int16(le.Uint16(want[2*i:])) })
	case "uint32":
		return compareCells(f, band, len(want)/4, func(i int) uint32 { return le.Uint32(want[4*i:]) })
	case "int32":
		return compareCells(f, band, len(want)/4, func(i int) int32 { return int32(le.Uint32(want[4*i:])) })
	case "uint64":
		return compareCells(f, band, len(want)/8, func(i int) uint64 { return le.Uint64(want[8*i:]) })
	case "int64":
		return compareCells(f, band, len(want)/8, func(i int) int64 { return int64(le.Uint64(want[8*i:])) })
	case "float32":
		return compareCells(f, band, len(want)/4, func(i int) float32 { return math.Float32frombits(le.Uint32(want[4*i:])) })
	case "float64":
		return compareCells(f, band, len(want)/8, func(i int) float64 { return math.Float64frombits(le.Uint64(want[8*i:])) })
	}
	return "type " + kind + " is not compared"
}

func compareCells[T raster.Number](f *File, band, n int, want func(i int) T) string {
	g, err := Read[T](context.Background(), f, Request{Band: band})
	if err != nil {
		return err.Error()
	}
	fr := g.Frame()
	if fr.Cols*fr.Rows != n {
		return fmt.Sprintf("%d × %d cells, want %d", fr.Cols, fr.Rows, n)
	}
	for i := range n {
		w := want(i)
		if got, ok := g.At(i%fr.Cols, i/fr.Cols); ok != (w == w) || ok && got != w { // NaN is missing
			return fmt.Sprintf("column %d, row %d: got %v (%v), want %v", i%fr.Cols, i/fr.Cols, got, ok, w)
		}
	}
	return ""
}

// compareFilled is compareRaw for a band with a no-data value: cells that hold it there are missing here.
func compareFilled(f *File, band int, kind string, want []byte) string {
	full, plain := *f, f.bands[band]
	plain.Nodata = ""
	full.bands = append([]Band(nil), f.bands...)
	full.bands[band] = plain
	return compareRaw(&full, band, kind, want)
}
