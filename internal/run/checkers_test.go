package run_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/export/quillmoor"
	"rootworthy/internal/run"
	"rootworthy/internal/secondopinion"
)

func TestIndependentCheckersAgree(t *testing.T) {
	if testing.Short() {
		t.Skip("the checkers take some seconds")
	}
	check := secondopinion.Checker(t, secondopinion.Node)
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
