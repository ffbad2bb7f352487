package soildata

import (
	"bytes"
	"encoding/csv"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rootworthy/soils/ssurgo"
)

// Whatever stands in a cell comes back from the file, in its place.
func TestCellsSurviveTheFile(t *testing.T) {
	layout := layouts()["corestrictions"]
	for _, text := range []string{"plain", `a "quoted" word`, "pipe|in it", "two\nlines", `back\slash\`, " padded ", "No ", "", `"`, "café", "|\"|\n\"\""} {
		row := make([]cell, len(layout.Columns))
		for i := range row {
			row[i] = set(text)
		}
		row[1] = cell{}
		var b bytes.Buffer
		if err := (table{layout: layout, rows: [][]cell{row, row}}).write(&b); err != nil {
			t.Fatal(err)
		}
		in := csv.NewReader(&b)
		in.Comma, in.FieldsPerRecord = '|', layout.Width
		records, err := in.ReadAll()
		if err != nil || len(records) != 2 {
			t.Fatalf("%q: %d records, %v", text, len(records), err)
		}
		for i, c := range layout.Columns {
			want := text
			if i == 1 {
				want = ""
			}
			if got := records[1][c.Position-1]; got != want {
				t.Errorf("%q: column %s holds %q", text, c.Name, got)
			}
		}
	}
}

// Every table that the reader reads is fetched, and its description tells columns and width as SSURGO 2.3.3 has them.
func TestEveryTableOfTheReaderIsFetched(t *testing.T) {
	var have, want []string
	var tables []table
	for _, s := range sources() {
		have = append(have, s.table)
		tables = append(tables, table{layout: layouts()[s.table]})
	}
	for _, l := range ssurgo.Tables() {
		want = append(want, l.Name)
	}
	if slices.Sort(have); !reflect.DeepEqual(have, want) {
		t.Errorf("fetched %v, read %v", have, want)
	}
	var b bytes.Buffer
	if err := describe(&b, tables); err != nil {
		t.Fatal(err)
	}
	for _, l := range tables {
		if want := "\"" + l.layout.Name + "\"|" + strconv.Itoa(l.layout.Width) + "|"; !strings.Contains(b.String(), want) {
			t.Errorf("the description of %s does not reach its width %d", l.layout.Name, l.layout.Width)
		}
	}
}
