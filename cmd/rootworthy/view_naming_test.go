package main

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/web"
	"rootworthy/suitability"
)

// A file of boundaries whose fields are named by a property, by --id of view or by a choice on the page, makes the run that screen makes with
// the same flags, to the byte.
func TestFieldsNamedThroughThePage(t *testing.T) {
	dir := t.TempDir()
	commanded(t, "demo", "--out", dir)
	at := func(name string) string { return filepath.Join(dir, name) }
	const text = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"tract":"014","who":"R. Alder"},"geometry":{"type":"Polygon","coordinates":[[[-78.1905,32.6095],[-78.1805,32.6095],[-78.1805,32.6125],[-78.1905,32.6125],[-78.1905,32.6095]]]}}]}`
	if err := os.WriteFile(at("north.geojson"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	page, typed := []string{"--survey", at("survey"), "--date", "2026-03-01"}, at("typed")
	commanded(t, slices.Concat([]string{"screen", at("north.geojson"), "--id", "tract", "--customer", "who", "--out", typed}, page)...)
	for name, tc := range map[string]struct {
		flags  []string
		naming *web.Naming
	}{
		"by flags":             {[]string{"--id", "tract", "--customer", "who"}, nil},
		"by choice":            {nil, &web.Naming{ID: "tract", Customer: "who"}},
		"by choice over flags": {[]string{"--id", "id", "--farm", "farm"}, &web.Naming{ID: "tract", Customer: "who"}},
	} {
		_, s := pageOf(t, slices.Concat([]string{at("fields.geojson")}, tc.flags, page)...)
		opt := s.Bounds
		if n := tc.naming; n != nil {
			opt.ID, opt.Customer, opt.Farm = n.ID, n.Customer, n.Farm
		}
		got, err := field.Read(context.Background(), []field.Source{{Name: "north.geojson", Files: os.DirFS(dir), Path: "north.geojson"}}, opt, &diag.List{})
		if err != nil {
			t.Fatal(err)
		}
		r := throughPage(t, s, web.Order{Fields: got, Naming: tc.naming, Inputs: []suitability.Input{{Role: "fields", Name: "north.geojson", SHA256: sha(text)}}}, typed)
		if !strings.HasPrefix(r.Zones[0].ID, "014/") || r.Fields[0].Customer != "R. Alder" {
			t.Errorf("%s: zone %s of %q", name, r.Zones[0].ID, r.Fields[0].Customer)
		}
	}
}
