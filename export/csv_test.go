package export_test

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// rows reads a table back with encoding/csv, which is not the writer, and looks up its cells by the column's name. Rows count from 0 below
// the header.
func rows(t *testing.T, b []byte) (cell func(row int, column string) string, n int) {
	t.Helper()
	if bytes.Count(b, []byte("\n")) != bytes.Count(b, []byte("\r\n")) {
		t.Error("a line does not end in CR LF")
	}
	all, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return func(row int, column string) string {
		for i, name := range all[0] {
			if name == column {
				return all[row+1][i]
			}
		}
		t.Fatalf("no column %s", column)
		return ""
	}, len(all) - 1
}

// Five fields give five rows, the one outside the survey too: its trouble is told, and acres and rank stay empty rather than zero. A name
// that a spreadsheet would run as a formula is guarded.
func TestFieldListHasARowForEachField(t *testing.T) {
	var b bytes.Buffer
	if err := export.WriteFieldsCSV(&b, quillmoor.Result()); err != nil {
		t.Fatal(err)
	}
	cell, n := rows(t, b.Bytes())
	if n != 5 {
		t.Fatalf("%d rows, want 5", n)
	}
	for _, c := range []struct {
		row          int
		column, want string
	}{
		{0, "field_name", `North Paddock, "home"`}, {0, "limiting", "drainage"}, {0, "rank", "1"},
		{1, "field_name", "'=1+1 Rushy Bottom"}, {3, "trouble", "outside the survey"}, {3, "suited_ac", ""}, {3, "rank", ""},
		{3, "repairs", "ring closed; 1 point repeated; dropped"}, {4, "partly_outside", "yes"}, {4, "field_name", ""},
	} {
		if got := cell(c.row, c.column); got != c.want {
			t.Errorf("row %d, %s = %q, want %q", c.row, c.column, got, c.want)
		}
	}
}

// Ground that needs no lime has a zero; ground without a figure has an empty cell. Whoever drives the spreader must not take the one for
// the other.
func TestLimeListTellsNoNeedFromNoFigure(t *testing.T) {
	r := quillmoor.Result()
	r.Zones[0].Lime = suitability.Lime{Basis: "survey screening", Likely: unit.Some(unit.AreaRate(0)), Target: 6.5, Why: suitability.WhyAtTarget}
	var b bytes.Buffer
	if err := export.WriteLimeCSV(&b, r, export.Sentences{}); err != nil {
		t.Fatal(err)
	}
	cell, n := rows(t, b.Bytes())
	if n != len(r.Zones) {
		t.Fatalf("%d rows, want %d", n, len(r.Zones))
	}
	for _, c := range []struct {
		row          int
		column, want string
	}{
		{0, "lime_st_ac", "0"}, {0, "passes", "0"}, {0, "product_kg", ""}, {1, "lime_st_ac", ""}, {1, "passes", ""},
		{3, "lime_st_ac", "1.3504"}, {3, "product_st_ac", "1.4"}, {3, "passes", "1"}, {3, "ready_date", "2027-11-25"}, {3, "window", "2028-09-15/2028-10-31"},
	} {
		if got := cell(c.row, c.column); got != c.want {
			t.Errorf("row %d, %s = %q, want %q", c.row, c.column, got, c.want)
		}
	}
}

// The survey records some columns of a map unit and not others, and none that is missing may read as zero. A symbol that begins with a
// minus is text here and so guarded.
func TestUnitListLeavesEmptyWhatIsNotRecorded(t *testing.T) {
	u := soils.MapUnit{Key: "qa", Symbol: "-QaB", Name: "Quillmoor sandy loam", Area: "QM001"}
	a := soils.UnitAggregate{SlopeDominant: unit.Some(3.0), FloodingDominant: soils.Never, DrainageWettest: soils.PoorlyDrained, HydrologicGroup: "B/D"}
	a.Water[0] = unit.Some(unit.Water(35.4))
	var b bytes.Buffer
	if err := export.WriteUnitsCSV(&b, []export.UnitRow{{Unit: &u, Aggregate: a}}); err != nil {
		t.Fatal(err)
	}
	cell, _ := rows(t, b.Bytes())
	for column, want := range map[string]string{"mukey": "qa", "musym": "'-QaB", "class": "not rated", "limiting": "", "slope_dom_pct": "3", "slope_mean_pct": "",
		"flooding_dom": "None", "aws_25_cm": "3.54", "aws_150_cm": "", "drainage_wettest": "Poorly drained", "hydrologic_group": "B/D", "drainage": ""} {
		if got := cell(0, column); got != want {
			t.Errorf("%s = %q, want %q", column, got, want)
		}
	}
	if strings.Contains(b.String(), "NaN") {
		t.Error("NaN written")
	}
}
