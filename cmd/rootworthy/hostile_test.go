package main

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"rootworthy/testdata/demo"
)

// TestHostileInput runs the whole program on damaged and malicious files: exit code 1 or 3, a message that names
// the file, bounded memory, and nothing half-written.
func TestHostileInput(t *testing.T) {
	if racing {
		t.Skip("made to harm, not to race; it runs without the detector")
	}
	dir := t.TempDir()
	if err := unpackDemo(dir); err != nil {
		t.Fatal(err)
	}
	// Each case damages one of the two inputs and takes the demonstration's own for the other, so that the message can be held to name the
	// damaged one.
	good, survey := filepath.Join(dir, "fields.geojson"), filepath.Join(dir, "survey")
	shp := demoFile(t, "survey/spatial/soilmu_a_zz901.shp")
	dbf := demoFile(t, "survey/spatial/soilmu_a_zz901.dbf")
	for _, c := range []struct {
		name, fields, survey string
		code                 int
	}{
		{"nested 100,000 deep", put(t, dir, "deep.geojson", []byte(strings.Repeat(`{"features":[`, 100_000))), survey, 1},
		{"NaN coordinate", put(t, dir, "nan.geojson", []byte(`{"type":"Feature","properties":{},"geometry":{"type":"Polygon","coordinates":[[[NaN,1],[2,2],[3,1],[NaN,1]]]}}`)), survey, 3},
		{"number beyond all bounds", put(t, dir, "huge.geojson", []byte(`{"type":"Feature","properties":{},"geometry":{"type":"Polygon","coordinates":[[[1e999,1],[2,2],[3,1],[1e999,1]]]}}`)), survey, 3},
		{"empty file", put(t, dir, "void.geojson", nil), survey, 1},
		{"not JSON", put(t, dir, "text.geojson", []byte("Dear Sir,\n")), survey, 1},
		{"shapefile cut in its header", put(t, dir, "cut1.shp", shp[:50]), survey, 1},
		{"shapefile that claims two thousand million points", put(t, dir, "claim.shp", absurdCounts(shp)), survey, 1},
		{"zip bomb as fields", put(t, dir, "bomb.zip", bomb(t, "fields.geojson")), survey, 1},
		{"cut zip", put(t, dir, "cut.zip", bomb(t, "fields.geojson")[:100]), survey, 1},
		{"folder as fields", survey, survey, 1},
		{"zip bomb as survey", good, put(t, dir, "bombsurvey.zip", bomb(t, "tabular/mapunit.txt")), 1},
		{"empty folder as survey", good, mkdir(t, dir, "hollow"), 1},
		{"empty file as survey", good, put(t, dir, "void.zip", nil), 1},
		{"survey whose map is cut off", good, damaged(t, dir, "cutmap", "spatial/soilmu_a_zz901.shp", shp[:len(shp)/2]), 3},
		{"survey whose map table claims absurd lengths", good, damaged(t, dir, "dbf", "spatial/soilmu_a_zz901.dbf", absurdTable(dbf)), 1},
		{"survey without horizons", good, damaged(t, dir, "nohorizon", "tabular/chorizon.txt", nil), 3},
		{"survey with a broken quote", good, damaged(t, dir, "quote", "tabular/comp.txt", []byte(`||"never closed`)), 3},
	} {
		t.Run(c.name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "run")
			var stdout, stderr bytes.Buffer
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			code := run(context.Background(), []string{"screen", c.fields, "--survey", c.survey, "--out", out}, stdio{nil, &stdout, &stderr})
			runtime.ReadMemStats(&after)
			said := stdout.String() + stderr.String()
			if code != c.code {
				t.Errorf("exit code %d, want %d; it said:\n%s", code, c.code, said)
			}
			// All that was ever allocated, not what was held at once: a zip bomb of 256 MB, unpacked, would show here even if it were freed
			// at once.
			if grown := (after.TotalAlloc - before.TotalAlloc) >> 20; grown > 200 {
				t.Errorf("%d MB were allocated", grown)
			}
			if name := filepath.Base(pick(c.fields == good, c.survey, c.fields)); code != 0 && !strings.Contains(said, name) {
				t.Errorf("it does not name %s:\n%s", name, said)
			}
			if strings.Count(strings.TrimSpace(stderr.String()), "\n") > 3 {
				t.Errorf("more than a few lines:\n%s", stderr.String())
			}
			if _, err := os.Stat(out); code == 1 && err == nil {
				t.Error("the out folder was made though nothing could be done")
			}
		})
	}
}

// pick is a where first holds, else b.
func pick(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

// demoFile is a file of the demonstration, as it is built into the program.
func demoFile(t *testing.T, name string) []byte {
	t.Helper()
	b, err := demo.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// put writes a file into dir and returns its path.
func put(t *testing.T, dir, name string, content []byte) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, content, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// mkdir makes a folder in dir and returns its path.
func mkdir(t *testing.T, dir, name string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.MkdirAll(path, 0o755); err != nil {
		t.Fatal(err)
	}
	return path
}

// damaged is a copy of the demo's survey with one file replaced.
func damaged(t *testing.T, dir, name, file string, content []byte) string {
	t.Helper()
	to := mkdir(t, dir, name)
	if err := unpackDemo(to); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(to, "survey"), file, content)
	return filepath.Join(to, "survey")
}

// bomb is a zip of 256 MB of zeros in a thousandth of that.
func bomb(t *testing.T, name string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	zeros := make([]byte, 1<<20)
	for range 256 {
		if _, err := w.Write(zeros); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// absurdCounts makes the first record claim more parts and points than a file can hold.
func absurdCounts(shp []byte) []byte {
	// The record begins after the file's head of 100 bytes and its own of 8; a polygon's type and box take 36 bytes, then come the counts
	// of parts and points.
	out := bytes.Clone(shp[:400])
	binary.LittleEndian.PutUint32(out[108+36:], 2_000_000_000)
	binary.LittleEndian.PutUint32(out[108+40:], 2_000_000_000)
	return out
}

// absurdTable claims two thousand million rows of 65,535 bytes.
func absurdTable(dbf []byte) []byte {
	// The table's head has the count of rows at byte 4 and the length of a row at byte 10.
	out := bytes.Clone(dbf)
	binary.LittleEndian.PutUint32(out[4:], 2_000_000_000)
	binary.LittleEndian.PutUint16(out[10:], 65535)
	return out
}
