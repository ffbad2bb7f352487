package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	runfolder "rootworthy/internal/run"
	"rootworthy/internal/web"
	"rootworthy/suitability"
)

// Tests that come in through a page make the run that screen makes of them, to the byte: zones, lime, reasons, record.
func TestTestsThroughThePage(t *testing.T) {
	dir := t.TempDir()
	std := stdio{strings.NewReader(""), io.Discard, io.Discard}
	if code := run(context.Background(), []string{"demo", "--out", dir}, std); code != exitDone {
		t.Fatalf("demo: exit code %d", code)
	}
	// The second sample has a pH of 64, a slip that is told and left out, so exit codes are those of work done with faults.
	lab := []byte("field_id,sample_id,top_cm,bottom_cm,date,ph_water,lbc_ppm_ph,lab\nF1,1,0,15,2026-01-14,5.1,310,Tarn Lab\nF2,2,0,15,2026-01-14,64,280,Tarn Lab\nF3,3,0,15,2026-01-14,5.6,240,Tarn Lab\n")
	tests, mapping := filepath.Join(dir, "lab.csv"), filepath.Join(dir, "lab.toml")
	if err := os.WriteFile(tests, lab, 0o644); err != nil {
		t.Fatal(err)
	}
	if code := run(context.Background(), []string{"tests", "check", tests, "--save-mapping", mapping}, std); code != exitFaults {
		t.Fatalf("tests check: exit code %d", code)
	}
	fields, survey, typed := filepath.Join(dir, "fields.geojson"), filepath.Join(dir, "survey"), filepath.Join(dir, "typed")
	same := []string{fields, "--survey", survey, "--farm", "farm", "--date", "2026-03-01"}
	args := append([]string{"screen", "--tests", tests, "--mapping", mapping, "--lime-method", "georgia-lbc", "--state", "GA", "--target-ph", "6.2", "--out", typed}, same...)
	if code := run(context.Background(), args, std); code != exitFaults {
		t.Fatalf("screen: exit code %d", code)
	}

	var f viewFlags
	fl := newFlags("view", viewHelp, std.out)
	f.declare(fl)
	// The page was started for another state than the order asks for: the order's counts.
	if err := parse(fl, append(same, "--state", "NC")); err != nil {
		t.Fatal(err)
	}
	s, err := f.screener(fl, []string{fields})
	if err != nil {
		t.Fatal(err)
	}
	m, err := os.ReadFile(mapping)
	if err != nil {
		t.Fatal(err)
	}
	o := web.Order{Start: true, Tests: []web.Text{{Name: "lab.csv", Bytes: lab}}, Mapping: &web.Text{Name: "lab.toml", Bytes: m},
		Lime: web.LimeOrder{Method: "georgia-lbc", State: "GA", TargetPH: 6.2}}
	for _, x := range []struct{ role, path string }{{"mapping", mapping}, {"tests", tests}} {
		in, err := (&witness{FS: os.DirFS(dir), role: x.role, name: x.path, opened: map[string]bool{filepath.Base(x.path): true}}).input()
		if err != nil {
			t.Fatal(err)
		}
		o.Inputs = append(o.Inputs, in)
	}
	throughPage(t, s, o, typed)
}

// throughPage screens an order as the page does and holds every file of its run against that of the command line, byte by byte.
func throughPage(t *testing.T, s *web.Screener, o web.Order, typed string) *suitability.Result {
	t.Helper()
	r, err := s.Screen(context.Background(), o, func(string, int, int) {}, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	paged := filepath.Join(t.TempDir(), "paged")
	if err := runfolder.Write(paged, r); err != nil {
		t.Fatal(err)
	}
	for _, name := range runfolder.Files() {
		want, err := os.ReadFile(filepath.Join(typed, name))
		if err != nil {
			t.Fatal(err)
		}
		got, err := os.ReadFile(filepath.Join(paged, name))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s: through the page %d bytes, typed %d (%v)", name, len(got), len(want), err)
		}
	}
	return r
}

// What cannot be meant of an order is told in the words of the command line.
func TestOrdersAreChecked(t *testing.T) {
	var f viewFlags
	fl := newFlags("view", viewHelp, io.Discard)
	f.declare(fl)
	tests := []web.Text{{Name: "lab.csv"}}
	for says, o := range map[string]web.Order{
		"--target-ph: a target pH of 9 is not possible": {Tests: tests, Lime: web.LimeOrder{TargetPH: 9}},
		`--lime-method: there is no method "nc"`:        {Tests: tests, Lime: web.LimeOrder{Method: "nc"}},
		`--state: "Georgia" is not the postal code`:     {Tests: tests, Lime: web.LimeOrder{State: "Georgia"}},
		`--interpolate: there is no "spline"`:           {Tests: tests, Lime: web.LimeOrder{Interpolate: "spline"}},
		"":                                              {Tests: tests, Lime: web.LimeOrder{Method: "nc-mehlich", State: "NC"}},
		"--lime-method table needs --lime-table FILE":   {Tests: tests, Lime: web.LimeOrder{Method: "table"}},
	} {
		if err := f.check(o); (err == nil) != (says == "") || err != nil && !strings.Contains(err.Error(), says) {
			t.Errorf("want %q, got %v", says, err)
		}
	}
}
