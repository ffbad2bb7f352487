package export_test

import (
	"bytes"
	"strings"
	"testing"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
)

// A layer holds every zone and every column once, and its short names differ, as a shapefile needs.
func TestLayersHoldEveryRowAndColumnOnce(t *testing.T) {
	r := quillmoor.Result()
	for _, c := range []struct {
		layer export.Layer
		rows  int
		has   string
	}{{export.ZoneLayer(r, export.Sentences{}), len(r.Zones), "lime_st_ac product_kg ready_date"}, {export.FieldLayer(r), len(r.Fields), "area_ac lime_st"}} {
		names, short := map[string]bool{}, map[string]bool{}
		for _, col := range c.layer.Columns {
			if names[col.Name] || short[strings.ToUpper(col.Short())] {
				t.Errorf("%s: column %s (%s) stands twice", c.layer.Name, col.Name, col.Short())
			}
			names[col.Name], short[strings.ToUpper(col.Short())] = true, true
		}
		for _, name := range strings.Fields(c.has) {
			if !names[name] {
				t.Errorf("%s: no column %s", c.layer.Name, name)
			}
		}
		if len(c.layer.Rows) != c.rows {
			t.Errorf("%s: %d rows, want %d", c.layer.Name, len(c.layer.Rows), c.rows)
		}
		for _, row := range c.layer.Rows {
			if len(row.Values) != len(c.layer.Columns) {
				t.Fatalf("%s %s: %d values for %d columns", c.layer.Name, row.ID, len(row.Values), len(c.layer.Columns))
			}
		}
	}
}

func TestLayerAsGeoJSONAndCSV(t *testing.T) {
	r := quillmoor.Result()
	l := export.ZoneLayer(r, export.Sentences{Cautions: []string{"Dig and test."}})
	var g, c bytes.Buffer
	if err := l.WriteGeoJSON(&g, r, export.Sentences{Cautions: []string{"Dig and test."}}); err != nil {
		t.Fatal(err)
	}
	if err := l.WriteCSV(&c); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(g.String(), `"cautions":["Dig and test."]`) || strings.Count(g.String(), `"type":"Feature"`) != len(r.Zones) {
		t.Errorf("GeoJSON lacks a caution or a zone:\n%.300s", g.String())
	}
	cell, n := rows(t, c.Bytes())
	if n != len(r.Zones) || cell(2, "field_name") != "'=1+1 Rushy Bottom" {
		t.Errorf("%d rows, name %q", n, cell(2, "field_name"))
	}
}
