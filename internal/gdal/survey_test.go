//go:build gdal

package gdal

import (
	"bytes"
	"context"
	"encoding/csv"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
)

// shared returns a real survey export beside the checkout, or skips the test.
func shared(t *testing.T, name string) string {
	t.Helper()
	dir := filepath.Join("../../../shared/data", name)
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("%s is not there: it holds real surveys for tests", dir)
	}
	return dir
}

var tableFiles = map[string]string{"legend": "legend", "sacatalog": "sacatlog", "mapunit": "mapunit", "component": "comp", "chorizon": "chorizon",
	"corestrictions": "crstrcts", "comonth": "cmonth", "cosoilmoist": "csmoist", "chtexturegrp": "chtexgrp", "chtexture": "chtextur"}

// geodatabase makes a file geodatabase of an export with GDAL's own tool: numbers as numbers, keys as it sees fit.
func geodatabase(t *testing.T, dir string) string {
	t.Helper()
	tool, err := exec.LookPath("ogr2ogr")
	if err != nil {
		t.Skip("ogr2ogr (Debian package gdal-bin) is not installed")
	}
	run := func(args ...string) {
		t.Helper()
		if out, err := exec.Command(tool, args...).CombinedOutput(); err != nil {
			t.Fatalf("ogr2ogr %v: %v\n%s", args, err, out)
		}
	}
	work := t.TempDir()
	out := filepath.Join(work, "survey.gdb")
	shp, _ := filepath.Glob(filepath.Join(dir, "spatial", "soilmu_a_*.shp"))
	run("-q", "-f", "OpenFileGDB", out, shp[0], "-nln", "MUPOLYGON", "-nlt", "MULTIPOLYGON")
	columns := map[string][]string{}
	for _, r := range records(t, filepath.Join(dir, "tabular", "mstabcol.txt")) {
		columns[r[0]] = append(columns[r[0]], r[2])
	}
	for table, file := range tableFiles {
		rows := records(t, filepath.Join(dir, "tabular", file+".txt"))
		if len(rows) == 0 {
			continue
		}
		for _, r := range rows {
			for i := range r {
				r[i] = strings.TrimSpace(r[i])
			}
		}
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.Write(columns[table])
		w.WriteAll(rows)
		path := filepath.Join(work, table+".csv")
		if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		run("-q", "-update", out, path, "-nln", table, "-oo", "AUTODETECT_TYPE=YES", "-oo", "EMPTY_STRING_AS_NULL=YES")
	}
	return out
}

func records(t *testing.T, path string) [][]string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(bytes.NewReader(b))
	r.Comma, r.FieldsPerRecord = '|', -1
	out, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// content is a survey with the areas of its units, by key.
func content(t *testing.T, e *ssurgo.Export) (*soils.Survey, map[string]float64, int) {
	t.Helper()
	s, err := e.Survey(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	area, n := map[string]float64{}, 0
	plane := proj.PlaneFor(orb.Bound{Min: orb.Point{-95, 33}, Max: orb.Point{-91, 42}})
	err = e.Polygons(context.Background(), func(p ssurgo.Polygon) error {
		n++
		flat, err := plane.ForwardMultiPolygon(p.Shape, true)
		for _, part := range flat {
			for _, ring := range part {
				for i := 0; i+1 < len(ring); i++ {
					area[p.Unit] += (ring[i][0]*ring[i+1][1] - ring[i+1][0]*ring[i][1]) / 2
				}
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return s, area, n
}

// A file geodatabase reads as the export that it was made from. Its coordinates stand on a grid, so areas agree to a
// ten-millionth; its rings turn the other way.
func TestGeodatabaseIsTheExport(t *testing.T) {
	for _, name := range []string{"ssurgo-ia073-aoi", "ssurgo-ar017"} {
		dir := shared(t, name)
		var faults diag.List
		e, err := ssurgo.Open(context.Background(), dir, os.DirFS(dir), &faults)
		if err != nil {
			t.Fatal(err)
		}
		want, wantArea, wantN := content(t, e)
		got, closeIt, err := OpenSurvey(context.Background(), geodatabase(t, dir), "mukey", &faults)
		if err != nil {
			t.Fatal(err)
		}
		defer closeIt()
		s, area, n := content(t, got)
		if n != wantN || len(s.Units) != len(want.Units) || faults.Faults() > 0 {
			t.Fatalf("%s: %d polygons, %d units, want %d, %d\n%s", name, n, len(s.Units), wantN, len(want.Units), &faults)
		}
		for i := range s.Units {
			if a, b := soils.Aggregate(&s.Units[i]), soils.Aggregate(&want.Units[i]); a != b {
				t.Errorf("%s: unit %s: %+v, want %+v", name, want.Units[i].Key, a, b)
			}
			if h := horizons(&s.Units[i]); h != horizons(&want.Units[i]) {
				t.Errorf("%s: unit %s has %d horizons, want %d", name, want.Units[i].Key, h, horizons(&want.Units[i]))
			}
		}
		for k, w := range wantArea {
			if math.Abs(math.Abs(area[k])-w) > 1e-7*w+0.1 {
				t.Errorf("%s: unit %s: %v m², want %v", name, k, area[k], w)
			}
		}
	}
}

func horizons(u *soils.MapUnit) (n int) {
	for _, c := range u.Components {
		n += len(c.Horizons)
	}
	return n
}

func TestRefusals(t *testing.T) {
	empty := filepath.Join(t.TempDir(), "empty.gdb")
	if err := os.Mkdir(empty, 0o755); err != nil {
		t.Fatal(err)
	}
	for path, say := range map[string]string{empty: "cannot be opened as a survey", filepath.Join(empty, "none"): "cannot be opened as a survey"} {
		if _, _, err := OpenSurvey(context.Background(), path, "mukey", &diag.List{}); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%s: %v", path, err)
		}
	}
	dir := shared(t, "ssurgo-ia073-aoi")
	shp := filepath.Join(dir, "spatial", "aoi_a_aoi.shp")
	if _, _, err := OpenSurvey(context.Background(), shp, "mukey", &diag.List{}); err == nil || !strings.Contains(err.Error(), "no soil survey") {
		t.Errorf("%s: %v", shp, err)
	}
}

// A map on NAD27 is refused in the sentence that all soil maps are refused in.
func TestMapOnNAD27IsRefused(t *testing.T) {
	tool, err := exec.LookPath("ogr2ogr")
	if err != nil {
		t.Skip("ogr2ogr (Debian package gdal-bin) is not installed")
	}
	dir := t.TempDir()
	in, out := filepath.Join(dir, "map.geojson"), filepath.Join(dir, "map.gdb")
	one := `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"mukey":"1"},"geometry":{"type":"Polygon","coordinates":[[[-91,46],[-90.9,46],[-90.9,46.1],[-91,46]]]}}]}`
	if err := os.WriteFile(in, []byte(one), 0o600); err != nil {
		t.Fatal(err)
	}
	if b, err := exec.Command(tool, "-q", "-f", "OpenFileGDB", out, in, "-nln", "MUPOLYGON", "-nlt", "MULTIPOLYGON", "-a_srs", "EPSG:4267").CombinedOutput(); err != nil {
		t.Fatalf("%v %s", err, b)
	}
	_, _, err = OpenSurvey(context.Background(), out, "mukey", &diag.List{})
	if err == nil || !strings.Contains(err.Error(), "map.gdb, layer MUPOLYGON: coordinate system") || !strings.Contains(err.Error(), "stands on NAD27") || !strings.Contains(err.Error(), "convert the file to EPSG:4326") {
		t.Errorf("%v", err)
	}
}

func TestCancelled(t *testing.T) {
	e, closeIt, err := OpenSurvey(context.Background(), geodatabase(t, shared(t, "ssurgo-ia073-aoi")), "mukey", &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	defer closeIt()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := e.Survey(ctx); err == nil {
		t.Error("a survey was read though nobody waits for it")
	}
}
