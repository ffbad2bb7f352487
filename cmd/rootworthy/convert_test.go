package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"rootworthy/export/exchange"
	"rootworthy/internal/diag"
	"rootworthy/internal/geo/geopackage"
)

// An interrupt, a folder that cannot be written and somebody's file in the way leave everything as it was.
func TestConvertIsWholeOrAbsent(t *testing.T) {
	dir := t.TempDir()
	must(t, exitDone, "demo", "--out", filepath.Join(dir, "demo"))
	folder, out := filepath.Join(dir, "demo", "run"), filepath.Join(dir, "out")
	args := func(out string) []string { return []string{"convert", folder, "--to", "all", "--out", out} }

	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var stderr bytes.Buffer
	if code := run(ctx, args(out), stdio{nil, io.Discard, &stderr}); code != exitInterrupted {
		t.Errorf("interrupted: exit code %d: %s", code, &stderr)
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("an interrupted run left its folder")
	}
	locked := filepath.Join(dir, "locked")
	if err := os.Mkdir(locked, 0o555); err != nil {
		t.Fatal(err)
	}
	if os.Geteuid() == 0 {
		locked = "/proc" // where even the superuser makes no file
	}
	must(t, exitCould, args(filepath.Join(locked, "zones"))...)

	must(t, exitDone, "convert", folder, "--to", "csv", "--out", out)
	before := namesIn(t, out)
	// A folder that the program itself wrote may be written over, but not once somebody keeps a file of his own in it.
	if err := os.WriteFile(filepath.Join(out, "mine.txt"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	must(t, exitCould, args(out)...)
	want := append(before, "mine.txt")
	slices.Sort(want)
	if after := namesIn(t, out); !slices.Equal(after, want) {
		t.Errorf("the folder holds %v, before %v", after, before)
	}
}

// namesIn lists a folder, sorted by name.
func namesIn(t *testing.T, dir string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// The samples of a laboratory's file become points again, from the file itself: twenty bags of topsoil, each at its place.
func TestConvertPutsSamplesOnTheMap(t *testing.T) {
	dir := t.TempDir()
	story, err := txtar.ParseFile("../../testdata/stories/technician-tests.txtar")
	if err != nil {
		t.Fatal(err)
	}
	in := func(name string) string { return filepath.Join(dir, name) }
	for _, f := range story.Files {
		if f.Name == "bags.csv" || f.Name == "middle.geojson" {
			if err := os.WriteFile(in(f.Name), f.Data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	must(t, exitDone, "demo", "--out", in("d"))
	must(t, exitDone, "screen", in("middle.geojson"), "--survey", in("d/survey"), "--tests", in("bags.csv"), "--lime-method", "nc-mehlich", "--date", "2026-11-25", "--out", in("run"))
	if text := must(t, exitDone, "convert", in("run"), "--to", "geopackage,xlsx", "--tests", in("bags.csv"), "--out", in("zones")); !strings.Contains(text, "zones.gpkg") {
		t.Error(text)
	}
	b, err := os.ReadFile(in("zones/zones.gpkg"))
	if err != nil {
		t.Fatal(err)
	}
	var faults diag.List
	db, err := geopackage.Open(t.Context(), "zones.gpkg", bytes.NewReader(b), int64(len(b)), &faults)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	layers, err := db.Layers(t.Context())
	if err != nil || len(layers) != 3 || layers[2].Name != "samples" || layers[2].Kind != "POINT" {
		t.Fatalf("%d layers, %v", len(layers), err)
	}
	samples, _ := db.Table("samples")
	n := 0
	if err := samples.Rows(t.Context(), []string{"sample_id"}, func(*geopackage.Row) error { n++; return nil }); err != nil || n < 10 {
		t.Errorf("%d samples, %v", n, err)
	}
	// The mark goes along with the folder wherever that is sent.
	if mark, err := os.ReadFile(in("zones/" + exchange.MarkFile)); err != nil || strings.Contains(string(mark), dir) {
		t.Errorf("the mark names a folder of this machine: %s %v", mark, err)
	}
}
