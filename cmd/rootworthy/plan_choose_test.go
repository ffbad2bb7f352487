package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"rootworthy/export/calendar"
	"rootworthy/export/grower"
	"rootworthy/internal/diag"
	runfolder "rootworthy/internal/run"
)

// The plans of the fields one by one are the plan of the farm in pieces: orders add up, every entry of the calendar is there once with the
// id and the words that it has in the plan of all, and the rows of the tables are the same rows.
func TestPlansOfFieldsAddUpToThatOfTheFarm(t *testing.T) {
	dir := t.TempDir()
	if code := run(context.Background(), []string{"demo", "--out", dir}, stdio{strings.NewReader(""), io.Discard, io.Discard}); code != exitDone {
		t.Fatalf("demo: exit code %d", code)
	}
	r, err := runfolder.Read(os.DirFS(filepath.Join(dir, "run")))
	if err != nil {
		t.Fatal(err)
	}
	plan := func(fields ...string) *grower.Farm {
		var faults diag.List
		f := planFlags{region: "piedmont", date: "2026-03-01", yield: 4.5, chosen: fieldChoice{fields: fields}}
		farm, err := f.farm(r, &faults)
		if err != nil || faults.Faults() > 0 {
			t.Fatal(err, &faults)
		}
		return farm
	}
	whole := plan()
	order, steps, entries := map[string]float64{}, map[string]int{}, map[string]calendar.Entry{}
	for _, f := range r.Fields {
		one := plan(f.ID)
		for item, sum := range ordered(t, one) {
			order[item] += sum
		}
		for _, row := range tableOf(t, one, grower.WriteSteps)[1:] {
			steps[strings.Join(row, "\x00")]++
		}
		for _, e := range grower.Entries(one) {
			entries[e.UID()] = e
		}
	}
	want := ordered(t, whole)
	if len(want) == 0 || len(want) != len(order) {
		t.Errorf("%d things to buy, of the fields %d", len(want), len(order))
	}
	for item, sum := range want {
		if !(sum > 0) || math.Abs(order[item]-sum) > 1e-3*float64(len(r.Fields)) { // cells have four decimals
			t.Errorf("%s: %v for the farm, %v for its fields", item, sum, order[item])
		}
	}
	rows := tableOf(t, whole, grower.WriteSteps)[1:]
	for _, row := range rows {
		if steps[strings.Join(row, "\x00")] != 1 {
			t.Errorf("%v: not once in the plans of the fields", row)
		}
	}
	if len(rows) != len(steps) {
		t.Errorf("%d steps, of the fields %d", len(rows), len(steps))
	}
	all := grower.Entries(whole)
	for _, e := range all {
		if entries[e.UID()] != e { // days and words too
			t.Errorf("%s: in the plan of its field %q", e.Summary, entries[e.UID()].Summary)
		}
	}
	if len(all) == 0 || len(all) != len(entries) {
		t.Errorf("%d entries, of the fields %d", len(all), len(entries))
	}
}

// ordered is what a plan wants bought, by name.
func ordered(t *testing.T, farm *grower.Farm) map[string]float64 {
	out := map[string]float64{}
	for _, row := range tableOf(t, farm, grower.WriteOrder)[1:] {
		x, err := strconv.ParseFloat(row[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		out[row[0]] = x
	}
	return out
}

// tableOf is a table of a plan as rows of cells, its header first.
func tableOf(t *testing.T, farm *grower.Farm, write func(io.Writer, *grower.Farm) error) [][]string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, farm); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}
