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

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	runfolder "rootworthy/internal/run"
	"rootworthy/internal/web"
	"rootworthy/suitability"
)

// Laboratory files stand beside the run that they made, come back with it at the next start, and never in its folder.
func TestTestsAreKeptBesideTheRun(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "runs")
	f := viewFlags{runs: dir}
	held := []byte("a zip")
	// A run made with laboratory files, and one without.
	for i, tests := range [][]byte{held, nil} {
		if name, err := f.keep(&suitability.Result{}, tests); name != []string{"run-1", "run-2"}[i] || err != nil {
			t.Fatalf("kept as %q, %v", name, err)
		}
	}
	entries, err := os.ReadDir(filepath.Join(dir, "run-1"))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !slices.Contains(runfolder.Files(), e.Name()) {
			t.Errorf("the run folder holds %s", e.Name())
		}
	}
	folders, err := earlierRuns(dir)
	if err != nil || len(folders) != 2 {
		t.Fatalf("%v, %v", folders, err)
	}
	for i, want := range [][]byte{held, nil} {
		if got, err := sources(folders)[i].Held(); !bytes.Equal(got, want) || err != nil {
			t.Errorf("beside %s: %q, %v; want %q", folders[i].name, got, err, want)
		}
	}
	if err := os.RemoveAll(filepath.Join(dir, "run-1")); err != nil {
		t.Fatal(err)
	}
	if name, err := f.keep(&suitability.Result{}, held); name != "run-3" || err != nil { // run-1.tests.zip is of a run that was deleted
		t.Errorf("kept as %q, %v", name, err)
	}
	if err := os.WriteFile(filepath.Join(dir, "run-2.tests.zip"), make([]byte, web.MostHeld+1), 0o644); err != nil {
		t.Fatal(err)
	}
	if got, err := sources(folders)[1].Held(); len(got) != web.MostHeld || err != nil {
		t.Errorf("of a file without end %d bytes are read, %v", len(got), err)
	}
}

// A boundary that comes in through the page is read as screen reads it: with its owner, and without the ground that is cut out of all
// fields. Alone with the tests of its run it makes the run that screen makes, to the byte.
func TestABoundaryThroughThePage(t *testing.T) {
	dir := t.TempDir()
	std := stdio{strings.NewReader(""), io.Discard, io.Discard}
	if code := run(context.Background(), []string{"demo", "--out", dir}, std); code != exitDone {
		t.Fatalf("demo: exit code %d", code)
	}
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	const field1 = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"id":"F1","who":"R. Alder","farm":"Heron Bend"},"geometry":{"type":"Polygon","coordinates":[[[-78.1905,32.6095],[-78.1805,32.6095],[-78.1805,32.6125],[-78.1905,32.6125],[-78.1905,32.6095]]]}}]}`
	north := write("north.geojson", field1)
	pond := write("pond.geojson", `{"type":"Feature","properties":{},"geometry":{"type":"Polygon","coordinates":[[[-78.187,32.610],[-78.185,32.610],[-78.185,32.611],[-78.187,32.611],[-78.187,32.610]]]}}`)
	survey, typed := filepath.Join(dir, "survey"), filepath.Join(dir, "typed")
	same := []string{"--survey", survey, "--customer", "who", "--farm", "farm", "--exclude", pond, "--date", "2026-03-01"}
	if code := run(context.Background(), append([]string{"screen", north, "--out", typed}, same...), std); code != exitDone {
		t.Fatalf("screen: exit code %d", code)
	}
	var f viewFlags
	fl := newFlags("view", viewHelp, std.out)
	f.declare(fl)
	fields := filepath.Join(dir, "fields.geojson")
	if err := parse(fl, append([]string{fields}, same...)); err != nil {
		t.Fatal(err)
	}
	s, err := f.screener(fl, []string{fields})
	if err != nil {
		t.Fatal(err)
	}
	in, err := (&witness{FS: os.DirFS(dir), role: "fields", name: north, opened: map[string]bool{"north.geojson": true}}).input()
	if err != nil {
		t.Fatal(err)
	}
	got, err := field.Read(context.Background(), []field.Source{{Name: "north.geojson", Files: os.DirFS(dir), Path: "north.geojson"}}, s.Bounds, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	r := throughPage(t, s, web.Order{Fields: got, Inputs: []suitability.Input{in}}, typed)
	if r.Fields[0].Customer != "R. Alder" || r.Fields[0].Excluded == 0 {
		t.Errorf("the field is %q of %q with %v cut out", r.Fields[0].ID, r.Fields[0].Customer, r.Fields[0].Excluded)
	}
}
