package exchange_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/export/exchange"
	"rootworthy/internal/diag"
	"rootworthy/internal/geo/geopackage"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// tested returns the odd run with two samples in its first zone.
func tested() *suitability.Result {
	r := odd()
	l := &r.Zones[0].Lime
	l.Basis = "test: Mehlich buffer"
	l.Test = &suitability.LimeTest{Method: "mehlich", Samples: []suitability.SampleLime{
		{ID: "A1", PH: unit.Some(unit.PH(5.4)), Figure: unit.Some(unit.ShortTonsPerAcre(1.5))},
		{ID: "A2", PH: unit.Some(unit.PH(5.2)), Refusal: "range", What: "outside the range of the method"},
	}}
	return r
}

// Samples become a layer of the GeoPackage, as points when their places are known, and a sheet of the workbook.
func TestSamplesAreALayer(t *testing.T) {
	places := map[string]orb.Point{"A1": {-78.0999, 32.5001}}
	for _, c := range []struct {
		name   string
		places map[string]orb.Point
		rows   int
		kind   string
		note   string
	}{
		{"no places asked for", nil, 2, "POINT", ""},
		{"one has a place", places, 2, "POINT", "1 of 2 samples have no place"},
		{"none has a place", map[string]orb.Point{}, 2, "POINT", "none of the samples has a place"},
	} {
		s := setOf(t, tested(), exchange.Options{Formats: []string{"geopackage", "xlsx"}, Places: c.places})
		files := written(t, s, 1)
		var faults diag.List
		db, err := geopackage.Open(t.Context(), "z", bytes.NewReader(files["zones.gpkg"]), int64(len(files["zones.gpkg"])), &faults)
		if err != nil {
			t.Fatal(err)
		}
		table, ok := db.Table("samples")
		if !ok {
			t.Fatalf("%s: no layer of samples", c.name)
		}
		n := 0
		if err := table.Rows(t.Context(), []string{"sample_id", "of_zone"}, func(r *geopackage.Row) error {
			n++
			if r.Text(1) != "T/1" {
				t.Errorf("%s: sample %s of zone %s", c.name, r.Text(0), r.Text(1))
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		layers, err := db.Layers(t.Context())
		if err != nil || len(layers) != 3 || layers[2].Kind != c.kind || n != c.rows {
			t.Errorf("%s: %d layers, %d rows, %v", c.name, len(layers), n, err)
		}
		if got := strings.Join(s.Notes, "; "); !strings.Contains(got, c.note) || (c.note == "") != (got == "") {
			t.Errorf("%s: notes %q, want %q", c.name, got, c.note)
		}
		db.Close()
		if !bytes.Contains(files["zones.xlsx"], []byte("sheet4.xml")) {
			t.Errorf("%s: the workbook has no sheet of samples", c.name)
		}
	}
}

// A figure by test is not called a budget; where both are, the number of those that are stands in the text.
func TestTestedFiguresAreNoBudget(t *testing.T) {
	s := setOf(t, tested(), exchange.Options{Formats: []string{"kml"}})
	text := string(written(t, s, 1)["zones.kml"])
	for _, want := range []string{"Lime figures of 2 of 3 zones rest on the soil survey alone", "<name>Z1 Suited, 1.4 short tons/ac</name>",
		"<name>Z1 Suited, 1.4 short tons/ac (budget)</name>", "by test: Mehlich buffer."} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%.1500s", want, text)
		}
	}
	for _, colour := range []string{"ccb87f2c", "cca3e9ff", "cc1e0f7a", "cce6e6e6"} { // the colours of our maps, alpha, blue, green, red
		if !strings.Contains(text, "<PolyStyle><color>"+colour) {
			t.Errorf("no fill %s", colour)
		}
	}
}

// What the user's file said of a boundary stands beside it.
func TestFieldsKeepTheUsersAttributes(t *testing.T) {
	r := odd()
	r.Fields[0].Attributes = []suitability.Attribute{{Name: `crop "now"`, Value: json.RawMessage(`"bermudagrass"`)}, {Name: "n", Value: json.RawMessage(`12.50`)}}
	b := written(t, setOf(t, r, exchange.Options{Formats: []string{"geopackage"}}), 1)["zones.gpkg"]
	if !bytes.Contains(b, []byte(`{"crop \"now\"":"bermudagrass","n":12.50}`)) {
		t.Error("the attributes of the first field are not there as they were")
	}
}
