package exchange_test

import (
	"archive/zip"
	"bytes"
	"io"
	"slices"
	"testing"

	"rootworthy/export/exchange"
	"rootworthy/suitability"
)

// Equal results give equal bytes, whatever the order of the zones in memory and however many files are written at once.
func TestSameBytes(t *testing.T) {
	want := written(t, setOf(t, vanishing(), exchange.Options{}), 1)
	got := written(t, setOf(t, shuffled(vanishing()), exchange.Options{}), 8)
	if len(got) != len(want) || len(want) != 16 {
		t.Fatalf("%d and %d files, want 16", len(got), len(want))
	}
	for name, b := range want {
		if len(b) == 0 || !bytes.Equal(got[name], b) {
			t.Errorf("%s: %d bytes, then %d others", name, len(b), len(got[name]))
		}
	}
}

// shuffled turns the zones of a result around; the fields still know theirs.
func shuffled(r *suitability.Result) *suitability.Result {
	slices.Reverse(r.Zones)
	for i := range r.Fields {
		for k, z := range r.Fields[i].Zones {
			r.Fields[i].Zones[k] = len(r.Zones) - 1 - z
		}
		slices.Reverse(r.Fields[i].Zones)
	}
	return r
}

// Every file that has room for words says what lime from the survey is worth; the CSV, which has none, says in a column what each figure
// rests on.
func TestFilesSayWhatLimeIsWorth(t *testing.T) {
	files := written(t, setOf(t, odd(), exchange.Options{}), 2)
	for _, name := range []string{"zones.gpkg", "zones.fgb", "zones.parquet", "zones.kml", "zones.lime.tif", "zones.lime.cog.tif", "zones.geojson", "convert.json"} {
		if !bytes.Contains(files[name], []byte("a budget, not a rate to spread")) {
			t.Errorf("%s does not say that its lime is a budget", name)
		}
	}
	if !bytes.Contains(files["zones.csv"], []byte("survey screening")) {
		t.Error("the CSV does not say what its lime rests on")
	}
}

// What a file says of its own lime figures stands in the place of the general sentence; where every figure is by test that one is left, once.
func TestBudgetsAreToldOnce(t *testing.T) {
	count := func(b []byte) (own, general int) {
		return bytes.Count(b, []byte("A soil test sets the rate, and your soil laboratory")), bytes.Count(b, []byte("A lime figure from the survey is a budget"))
	}
	files := written(t, setOf(t, odd(), exchange.Options{Formats: []string{"kml", "geojson", "xlsx"}}), 1)
	z, err := zip.NewReader(bytes.NewReader(files["zones.xlsx"]), int64(len(files["zones.xlsx"])))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range z.File { // all that the workbook says, in whichever of its parts texts are kept
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		files["workbook"] = append(files["workbook"], b...)
	}
	for _, name := range []string{"zones.kml", "zones.geojson", "workbook"} {
		if own, general := count(files[name]); own != 1 || general != 0 {
			t.Errorf("%s says it %d times, and %d times in general", name, own, general)
		}
	}
}
