package run_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/export/quillmoor"
	"rootworthy/internal/run"
)

// checker runs one of the independent checkers; they hold no code of ours. It skips where they are not set up.
func checker(t *testing.T) func(args ...string) {
	t.Helper()
	home := os.Getenv("CHECKS_HOME")
	if home == "" {
		user, err := os.UserHomeDir()
		if err != nil {
			t.Skip("no home folder, so no checkers")
		}
		home = filepath.Join(user, ".cache", "rw-checks")
	}
	check, err := filepath.Abs("../../../shared/checks/check")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{check, filepath.Join(home, "node_modules")} {
		if _, err := os.Stat(path); err != nil {
			t.Skipf("checkers are not set up: %v; run ../shared/checks/setup.sh", err)
		}
	}
	return func(args ...string) {
		t.Helper()
		if out, err := exec.Command(check, args...).CombinedOutput(); err != nil {
			t.Errorf("check %v: %v\n%s", args, err, out)
		}
	}
}

func TestIndependentCheckersAgree(t *testing.T) {
	if testing.Short() {
		t.Skip("the checkers take some seconds")
	}
	check := checker(t)
	dir := filepath.Join(t.TempDir(), "run")
	if err := run.Write(dir, quillmoor.Result()); err != nil {
		t.Fatal(err)
	}
	in := func(name string) string { return filepath.Join(dir, name) }
	check("geojson", in("zones.geojson"), "--strict", "--require", "zone_id,class,reason,lime_st_ac", "--min-features", "8", "--within=-84,32,-83,33")
	check("geojson", in("fields.geojson"), "--strict", "--require", "field_id,area_ac", "--min-features", "5", "--within=-84,32,-83,33")
	check("csv", in("fields.csv"), "--strict")
	check("csv", in("lime.csv"), "--strict")
	check("same", "--key", "field_id", "--values", "area_ac,suited_ac,lime_st,trouble", in("fields.geojson"), in("fields.csv"))
	covered := in("covered.geojson")
	writeCovered(t, in("fields.geojson"), covered)
	check("same", "--key", "zone_id", "--values", "class,area_ac,lime_st_ac,lime_bound,ph_surface", "--field", covered, in("zones.geojson"), in("lime.csv"))
}

// writeCovered writes the fields without the ground outside the survey, which zones cannot cover: here those parts are
// whole fields or rectangles at an eastern edge, so that cutting them off is easy.
func writeCovered(t *testing.T, from, to string) {
	t.Helper()
	b, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	type geometry struct {
		Type        string      `json:"type"`
		Coordinates orb.Polygon `json:"coordinates"`
	}
	type feature struct {
		Type       string         `json:"type"`
		Geometry   geometry       `json:"geometry"`
		Uncovered  *geometry      `json:"uncovered,omitempty"`
		Properties map[string]any `json:"properties"`
	}
	var in, out struct {
		Type     string    `json:"type"`
		Features []feature `json:"features"`
	}
	if err := json.NewDecoder(bytes.NewReader(b)).Decode(&in); err != nil {
		t.Fatal(err)
	}
	out.Type = in.Type
	for _, f := range in.Features {
		if f.Uncovered != nil {
			west, all := f.Uncovered.Coordinates.Bound(), f.Geometry.Coordinates.Bound()
			if west == all {
				continue
			}
			all.Max[0] = west.Min[0]
			f.Geometry.Coordinates, f.Uncovered = all.ToPolygon(), nil
		}
		f.Properties = map[string]any{}
		out.Features = append(out.Features, f)
	}
	if b, err = json.Marshal(out); err == nil {
		err = os.WriteFile(to, b, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}
