package lime

import (
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// An invented table: no published one in tons by buffer pH was read.
const inventedTable = `name = "invented"
source = "invented for this test"
buffer = "sikora"
unit = "short tons/ac"
quality = 90
slice_in = 8
states = ["KY"]
targets = [6.0, 6.4, 7.0]

[[row]]
buffer_ph = 7.0
lime = [0, 0.5, 1]

[[row]]
buffer_ph = 5.0
lime = [4, 6, 8]

[[row]]
buffer_ph = 6.0
lime = [2.0, 3.0, 4.0]
`

// testTable is nil when the text has faults, which TestOwnTable looks at first.
func testTable() *Table {
	t, _, _ := ReadTable("invented.toml", strings.NewReader(inventedTable), &diag.List{})
	return t
}

// In the table, between its rows, between its columns, and outside; only what is in it goes without a note.
func TestOwnTable(t *testing.T) {
	table := testTable()
	if table == nil {
		t.Fatal("the invented table has faults")
	}
	for _, c := range []struct {
		buffer, target, want float64
		note                 bool
	}{
		{6, 6.4, 3, false}, {5, 6.0, 4, false}, {7, 7, 1, false}, {5.5, 6.4, 4.5, true}, {6, 6.7, 3.5, true}, {5.5, 6.2, 3.75, true}, {7, 6, 0, false},
	} {
		s := Soil{PH: some(unit.PH(5)), Sikora: some(unit.PHSikora(c.buffer))}
		r := answer(t, "table", s, Ask{Target: unit.PH(c.target), Table: table})
		near(t, "table", r.Rate.Amount().ShortTonsPerAcre(), c.want, 1e-12, "by hand")
		if (len(r.Notes) > 0) != c.note || r.Rate.Quality() != 90 || r.Slice.Or(0) != unit.InchesDeep(8) {
			t.Errorf("%+v", r)
		}
	}
	s := Soil{PH: some(unit.PH(5)), Sikora: some(unit.PHSikora(6)), SMP: some(unit.PHSMP(6))}
	r := answer(t, "table", s, Ask{Target: 6.4, Table: table, Depth: some(unit.InchesDeep(4))})
	near(t, "half the slice", r.Rate.Amount().ShortTonsPerAcre(), 1.5, 1e-12, "by hand")
	near(t, "as the table means 90 %, for 45 %", r.AsSpread(Product{ECCE: 45}).ShortTonsPerAcre(), 3, 1e-12, "by hand")
	refused(t, "table", Soil{PH: some(unit.PH(5)), SMP: some(unit.PHSMP(6))}, Ask{Target: 6.4, Table: table}, NotMeasured)
	refused(t, "table", s, Ask{Target: 7.1, Table: table}, OutsideTarget)
	s.Sikora = some(unit.PHSikora(4.9))
	refused(t, "table", s, Ask{Target: 6.4, Table: table}, OutsideBuffer)
}

// Each fault stands at its marked line, and all of them are told.
func TestTableFaults(t *testing.T) {
	for name, c := range map[string]struct {
		was, is, field string
	}{
		"buffer":          {`buffer = "sikora"`, `«buffer = "litmus"`, "buffer"},
		"unit":            {`unit = "short tons/ac"`, `«unit = "tons"`, "unit"},
		"quality":         {`quality = 90`, `«quality = "good"`, "quality"},
		"slice":           {`slice_in = 8`, `«slice_in = 80`, "slice_in"},
		"slice twice":     {`slice_in = 8`, "slice_in = 8\n«slice_cm = 20", "slice_cm"},
		"state":           {`states = ["KY"]`, `«states = ["Kentucky"]`, "states[0]"},
		"targets fall":    {`targets = [6.0, 6.4, 7.0]`, "targets = [6.0,\n6.9,\n«6.4]", "targets[2]"},
		"target":          {`targets = [6.0, 6.4, 7.0]`, `«targets = [6.0, "x", 7.0]`, "targets[1]"},
		"unknown key":     {`quality = 90`, "quality = 90\n«color = 3", "color"},
		"unknown in row":  {"buffer_ph = 5.0", "buffer_ph = 5.0\n«note = 3", "row[1].note"},
		"row length":      {"lime = [4, 6, 8]", "«lime = [4, 6]", "row[1].lime"},
		"negative":        {"lime = [4, 6, 8]", "«lime = [-4, 6, 8]", "row[1].lime[0]"},
		"too much":        {"lime = [4, 6, 8]", "«lime = [4, 6, 8000]", "row[1].lime[2]"},
		"not a number":    {"lime = [4, 6, 8]", "«lime = [4, nan, 8]", "row[1].lime[1]"},
		"buffer pH":       {"buffer_ph = 5.0", "«buffer_ph = 50", "row[1].buffer_ph"},
		"row twice":       {"buffer_ph = 6.0", "«buffer_ph = 5.0", "row[2].buffer_ph"},
		"target falls":    {"lime = [4, 6, 8]", "«lime = [4, 6, 5]", "row[1].lime[2]"},
		"rises with pH":   {"lime = [2.0, 3.0, 4.0]", "«lime = [2.0, 6.5, 7.0]", "row[2].lime[1]"},
		"no buffer_ph":    {"buffer_ph = 5.0\n", "«", "row[1].buffer_ph"},
		"broken TOML":     {"quality = 90", "«quality = = 90", ""},
		"source is empty": {`source = "invented for this test"`, `«source = ""`, "source"},
	} {
		marked := strings.Replace(inventedTable, c.was, c.is, 1)
		line := 1 + strings.Count(marked[:strings.Index(marked, "«")], "\n")
		if name == "no buffer_ph" {
			line-- // the [[row]] above
		}
		faults := &diag.List{}
		_, ok, err := ReadTable("t.toml", strings.NewReader(strings.Replace(marked, "«", "", 1)), faults)
		kept := faults.Kept()
		if ok || err != nil || len(kept) == 0 {
			t.Errorf("%s: no fault (%v)", name, err)
			continue
		}
		found := false
		for _, f := range kept {
			found = found || f.Line == line && f.Field == c.field && f.What != "" && f.Fix != ""
		}
		if !found {
			t.Errorf("%s: faults\n%swant line %d, field %q", name, faults, line, c.field)
		}
	}
	faults := &diag.List{}
	if _, ok, _ := ReadTable("t.toml", strings.NewReader("slice_in = 0\n"), faults); ok || faults.Faults() != 8 {
		t.Errorf("want 8 faults, all of them:\n%s", faults)
	}
}

// A table that passes gives back every figure that is written in it.
func FuzzReadTable(f *testing.F) {
	f.Add(inventedTable)
	f.Add("[[row]]\n[[row]]\nlime=[[1]]\nrow.x=1")
	f.Add("row = 1\n[a.b]\ntargets = {a = 1}")
	f.Fuzz(func(t *testing.T, text string) {
		faults := &diag.List{}
		table, ok, err := ReadTable("t.toml", strings.NewReader(text), faults)
		if err != nil || ok != (table != nil) || ok != (faults.Faults() == 0) {
			t.Fatalf("%v, %v, %v, %d faults", table, ok, err, faults.Faults())
		}
		if !ok {
			return
		}
		for _, row := range table.Rows {
			for k, target := range table.Targets {
				if v, on, err := table.at(row.BufferPH, float64(target)); err != nil || !on || v != row.Lime[k] {
					t.Fatalf("at %v, %v: %v, %v, %v; want %v", row.BufferPH, target, v, on, err, row.Lime[k])
				}
			}
		}
	})
}
