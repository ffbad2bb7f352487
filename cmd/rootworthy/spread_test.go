package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"rootworthy/export/taskdata"
	"rootworthy/internal/diag"
	"rootworthy/internal/secondopinion"
)

// must runs a command line and returns what it printed.
func must(t *testing.T, want int, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if code := run(context.Background(), args, stdio{nil, &stdout, &stderr}); code != want {
		t.Fatalf("rootworthy %v: exit code %d, want %d\n%s%s", args, code, want, &stdout, &stderr)
	}
	return stdout.String()
}

// TestSpreadAgreesWithTheLimeList: what the files put on is what lime.csv says, by field to 1 % and for the farm to
// 0.1 %, by our reader and by the independent one.
func TestSpreadAgreesWithTheLimeList(t *testing.T) {
	dir := t.TempDir()
	must(t, exitDone, "demo", "--out", filepath.Join(dir, "demo"))
	runs := map[string]string{"demo": filepath.Join(dir, "demo", "run")}
	shared := "../../../shared/data"
	if _, err := os.Stat(shared); err == nil && !testing.Short() {
		runs["a county"] = filepath.Join(dir, "county")
		must(t, exitFaults, "screen", filepath.Join(shared, "fields-ar017-invented", "fields.geojson"), "--survey", filepath.Join(shared, "ssurgo-ar017"), "--out", runs["a county"])
	}
	for name, folder := range runs {
		for _, zones := range []string{"grid2", "grid1", "polygons"} {
			t.Run(name+" "+zones, func(t *testing.T) {
				out := filepath.Join(t.TempDir(), "lime")
				must(t, exitDone, "spread", folder, "--out", out, "--zones", zones, "--untested-ok", "a test of files")
				byField, all := limeList(t, filepath.Join(folder, "lime.csv"))
				got := 0.0
				for _, e := range effectsOf(t, out) {
					got += float64(e.Mass)
					if want := byField[e.Field]; math.Abs(float64(e.Mass)-want) > 0.01*want {
						t.Errorf("%s: the file holds %.1f kg, lime.csv %.1f", e.Field, float64(e.Mass), want)
					}
				}
				if math.Abs(got-all) > 0.001*all {
					t.Errorf("the file holds %.1f kg, lime.csv %.1f", got, all)
				}
				if name == "demo" || zones == "grid2" {
					independent(t, out, fmt.Sprint(all))
				}
			})
		}
	}
}

// limeList adds up product_kg by the name of the field.
func limeList(t *testing.T, path string) (byField map[string]float64, all float64) {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for i, c := range rows[0] {
		at[c] = i
	}
	byField = map[string]float64{}
	for _, row := range rows[1:] {
		kg, err := strconv.ParseFloat(row[at["product_kg"]], 64)
		if err == nil {
			byField[row[at["field_name"]]] += kg
			all += kg
		}
	}
	return byField, all
}

// effectsOf reads a folder of task data back and returns what each task would put on; a file of ours may have neither fault nor notice.
func effectsOf(t *testing.T, dir string) []taskdata.Effect {
	t.Helper()
	var faults diag.List
	f, err := taskdata.Read(dir, os.DirFS(dir), &faults)
	if err != nil {
		t.Fatal(err)
	}
	effects, err := f.Effects(&faults)
	if err != nil || faults.Faults()+faults.Notices() > 0 {
		t.Fatal(err, faults.String())
	}
	return effects
}

// independent gives a folder to a reader that holds no code of ours; it skips where that is not set up.
func independent(t *testing.T, dir, totalKg string) {
	t.Helper()
	secondopinion.Checker(t, secondopinion.Node)("isoxml", dir, "--expect-version", "3", "--strict", "--tolerance-pct", "0.1", "--expect-total-kg", totalKg)
}

// TestSpreadHelpFitsOneScreen: the help begins with an example and fits one screen.
func TestSpreadHelpFitsOneScreen(t *testing.T) {
	help := must(t, exitDone, "spread", "--help")
	lines := strings.Split(strings.TrimRight(help, "\n"), "\n")
	if !strings.HasPrefix(lines[0], "  rootworthy spread run --out") || len(lines) > 40 {
		t.Errorf("%d lines, the first is %q", len(lines), lines[0])
	}
	for _, l := range lines {
		if len(l) > 80 {
			t.Errorf("%d letters: %s", len(l), l)
		}
	}
}

// A width without a unit is in feet and a tray in inches; "" is not given. A size that is no size is refused, as is a unit that is not
// known.
func TestLengthsAndTrays(t *testing.T) {
	for s, want := range map[string]float64{"60": 18.288, "60ft": 18.288, "18m": 18, " 18 m": 18, "": 0} {
		if got, err := lengthOf("width", s); err != nil || math.Abs(float64(got)-want) > 1e-9 {
			t.Errorf("lengthOf(%q) = %v, %v; want %v", s, got, err, want)
		}
	}
	for s, want := range map[string]float64{"20x20": 0.258064, "50x50cm": 0.25, "12x24in": 0.18580608} {
		if got, err := trayOf(s); err != nil || math.Abs(float64(got)-want) > 1e-9 {
			t.Errorf("trayOf(%q) = %v, %v; want %v", s, got, err, want)
		}
	}
	for _, s := range []string{"x", "0", "-3", "NaN", "5 miles"} {
		if got, err := lengthOf("width", s); err == nil {
			t.Errorf("lengthOf(%q) = %v, want an error", s, got)
		}
		if got, err := trayOf(s); err == nil {
			t.Errorf("trayOf(%q) = %v, want an error", s, got)
		}
	}
}

// TestCheckTellsAnotherPass: a file of all passes against the plan of one is not passed over in numbers alone.
func TestCheckTellsAnotherPass(t *testing.T) {
	dir := t.TempDir()
	if err := unpackDemo(dir); err != nil {
		t.Fatal(err)
	}
	folder, out := filepath.Join(dir, "run"), filepath.Join(dir, "lime")
	must(t, exitDone, "screen", filepath.Join(dir, "fields.geojson"), "--survey", filepath.Join(dir, "survey"), "--lime-ecce", "20", "--out", folder)
	must(t, exitDone, "spread", folder, "--out", out, "--pass", "all", "--untested-ok", "a test of files")
	// A log from far away has a rate that can be read and yet nothing to do with these fields.
	put(t, dir, "far.csv", []byte("lon,lat,rate_lb_ac\n-90,35,2000\n-90,35.0001,2000\n"))
	if said := must(t, exitDone, "spread", folder, "--applied", filepath.Join(dir, "far.csv"), "--rate-unit", "lb/ac", "--out", filepath.Join(dir, "far")); !strings.Contains(said, "may belong to other fields") {
		t.Errorf("a record from elsewhere:\n%s", said)
	}
	const told = "Not as planned:"
	if said := must(t, exitDone, "spread", "--check", out, folder); !strings.Contains(said, told) {
		t.Errorf("all passes against one:\n%s", said)
	}
	if said := must(t, exitDone, "spread", "--check", out, "--pass", "all", folder); strings.Contains(said, told) {
		t.Errorf("all passes against all:\n%s", said)
	}
}
