package ssurgo_test

import (
	"context"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
)

// faultCase puts «bad» text in place of a piece of one table; the fault must name the line where « stands.
type faultCase struct {
	name, table, old, new string
	severity              diag.Severity
	kind, field           string
}

// The text between « and » is what is wrong; its line is where the fault has to point.
func TestFaultsNamePlaceAndRemedy(t *testing.T) {
	for _, c := range []faultCase{
		{"letters for a number", "chorizon", "|5.6|6.5|", "|5.6|«abc»|", diag.Wrong, "number", "ph1to1h2o_r"},
		{"not a number in the sense of mathematics", "chorizon", "|5.6|5.8|", "|5.6|«NaN»|", diag.Wrong, "number", "ph1to1h2o_r"},
		{"infinity", "comp", "|0.5|", "|«+Inf»|", diag.Wrong, "number", "slope_r"},
		{"hexadecimal", "csmoist", "||100||", "||«0x10»||", diag.Wrong, "number", "soimoistdepb_r"},
		{"pH 58", "chorizon", "|5.6|5.8|", "|5.6|«58»|", diag.Wrong, "range", "ph1to1h2o_r"},
		{"negative percent", "comp", "|39|", "|«-39»|", diag.Wrong, "range", "comppct_r"},
		{"drainage class that does not exist", "comp", "Moderately well drained", "«Drained»", diag.Notice, "unknown word", "drainagecl"},
		{"restriction that does not exist", "crstrcts", "Fragipan", "«Ice»", diag.Notice, "unknown word", "reskind"},
		{"neither yes nor no", "comp", "|Yes|", "|«Perhaps»|", diag.Notice, "unknown word", "majcompflag"},
		{"month 13", "cmonth", `11|"November"`, `«13»|"Smarch"`, diag.Wrong, "month", "month"},
		{"component of no map unit", "comp", `"565250"`, `«"1"»`, diag.Wrong, "orphan", "mukey"},
		{"layer of no month", "csmoist", `"228738417"`, `«"1"»`, diag.Wrong, "orphan", "comonthkey"},
		{"too few fields", "crstrcts", "|", "«»", diag.Wrong, "field count", ""},
		{"quote in the middle", "mapunit", `HC"`, `H«"»C"`, diag.Wrong, "malformed record", ""},
		{"no map unit key", "mapunit", `"565250"`, `«""»`, diag.Wrong, "no key", "mukey"},
		{"date", "sacatlog", "09/13/2021 16:35:51", "«yesterday»", diag.Wrong, "date", "saverest"},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := excerpt(t)
			edit(t, e, c.table, c.old, c.new)
			f := e["tabular/"+c.table+".txt"]
			marked := string(f.Data)
			line := 1 + strings.Count(marked[:strings.Index(marked, "«")], "\n")
			f.Data = []byte(strings.NewReplacer("«", "", "»", "").Replace(marked))
			_, faults := read(t, e)
			for _, got := range faults.Kept() {
				if got.Kind == c.kind && got.Field == c.field && got.Severity == c.severity && got.Line == line &&
					got.File == "X/tabular/"+c.table+".txt" && got.What != "" && got.Fix != "" {
					return
				}
			}
			t.Errorf("want a %v of kind %q, field %q, in line %d of %s; got\n%s", c.severity, c.kind, c.field, line, c.table, faults)
		})
	}
}

// What no cell shows alone: horizons that cannot lie so, percents beyond a hundred, two textures for one horizon.
func TestFaultsBetweenRecords(t *testing.T) {
	for _, c := range []struct {
		name, table, old, new string
		severity              diag.Severity
		kind, says            string
	}{
		{"overlap", "chorizon", "|20|||107|", "|10|||107|", diag.Wrong, "overlap", "begins at 10 cm"},
		{"no thickness", "chorizon", "|20|||107|", "|20|||20|", diag.Wrong, "no thickness", "from 20 to 20 cm"},
		{"no bottom", "chorizon", "|20|||107|", "|20||||", diag.Wrong, "depth missing", "not recorded"},
		{"percents", "comp", "|39|", "|99|", diag.Notice, "percents", "sum to 160 percent"},
		{"second representative texture", "chtexgrp", `||No |`, `||Yes|`, diag.Wrong, "two textures", "two representative"},
		{"unit of no area", "mapunit", `"15097"`, `"1"`, diag.Notice, "orphan", "no survey area"},
		{"unit without components", "comp", `"565284"`, `"565250"`, diag.Notice, "unit without components", "W (565284)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := excerpt(t)
			edit(t, e, c.table, c.old, c.new)
			_, faults := read(t, e)
			for _, got := range faults.Kept() {
				if got.Kind == c.kind && got.Severity == c.severity && strings.Contains(got.What, c.says) {
					return
				}
			}
			t.Errorf("want a %v of kind %q that says %q; got\n%s", c.severity, c.kind, c.says, faults)
		})
	}
}

// A bad cell costs the cell, a bad record the record, and nothing more.
func TestFaultsCostNoMoreThanTheirPlace(t *testing.T) {
	sound, _ := read(t, excerpt(t))
	e := excerpt(t)
	edit(t, e, "comp", "Moderately well drained", "Drained")
	edit(t, e, "chorizon", "|5.6|5.8|", "|5.6|x|")
	got, _ := read(t, e)
	components, horizons, acid := 0, 0, 0
	for i := range got.Units {
		for j, c := range got.Units[i].Components {
			components++
			horizons += len(c.Horizons)
			for k, h := range c.Horizons {
				if h.PH.Value.Has() != sound.Units[i].Components[j].Horizons[k].PH.Value.Has() {
					acid++
				}
			}
		}
	}
	if components != 28 || horizons != 47 || acid != 1 {
		t.Errorf("%d components, %d horizons, %d pH lost", components, horizons, acid)
	}
}

// Twice the same is a slip of the export and a notice; twice one key with different content is a fault.
func TestRepeatedRecords(t *testing.T) {
	want, _ := read(t, excerpt(t))
	for _, table := range []string{"mapunit", "comp", "chorizon"} {
		e := excerpt(t)
		f := e["tabular/"+table+".txt"]
		first := f.Data[:strings.Index(string(f.Data), "\n")+1]
		f.Data = append(append([]byte(nil), f.Data...), first...)
		got, faults := read(t, e)
		if faults.Notices() != 1 || faults.Faults() != 0 {
			t.Errorf("%s: the same record twice should be one notice:\n%s", table, faults)
		}
		if !same(got, want) {
			t.Errorf("%s: the record was taken twice", table)
		}
	}
	// Of two different records with one key the same is kept whatever their order.
	e, swapped := excerpt(t), excerpt(t)
	h := e["tabular/chorizon.txt"]
	line := string(h.Data[:strings.Index(string(h.Data), "\n")+1])
	other := strings.Replace(line, "|5.8|", "|4.4|", 1)
	h.Data = append([]byte(other), h.Data...)
	swapped["tabular/chorizon.txt"].Data = append(swapped["tabular/chorizon.txt"].Data, other...)
	a, faults := read(t, e)
	b, _ := read(t, swapped)
	if !same(a, b) || faults.Faults() != 1 {
		t.Errorf("which of two records of one key is kept depends on their order, or was not told:\n%s", faults)
	}
}

// same compares to the last field, missing values included.
func same(a, b *soils.Survey) bool { return reflect.DeepEqual(a, b) }

// Without components or horizons nothing can be rated; the other tables are missed, and the rest is of use all the same.
func TestMissingTables(t *testing.T) {
	for table, wrong := range map[string]int{"comp": 1, "chorizon": 1, "cmonth": 0, "csmoist": 0, "legend": 0, "sacatlog": 0, "crstrcts": 0} {
		e := excerpt(t)
		delete(e, "tabular/"+table+".txt")
		_, faults := read(t, e)
		told := false
		for _, f := range faults.Kept() {
			told = told || (f.Kind == "table missing" && strings.HasSuffix(f.File, table+".txt"))
		}
		if !told || (faults.Faults() > 0) != (wrong > 0) {
			t.Errorf("%s missing: told %v\n%s", table, told, faults)
		}
	}
}

// A folder that was mistaken is an error at once, in the words that the user typed.
func TestNoSurveyHere(t *testing.T) {
	for name, fsys := range map[string]fstest.MapFS{
		"empty":           {},
		"other files":     {"notes/mapunit.txt": {Data: []byte("x")}, "readme.txt": {}},
		"folder as table": {"tabular/mapunit.txt/x": {}},
	} {
		_, err := ssurgo.Open(context.Background(), "farm", fsys, &diag.List{})
		if err == nil || !strings.HasPrefix(err.Error(), "farm: ") {
			t.Errorf("%s: err = %v, want one that names what was given", name, err)
		}
	}
}

// A table without a key of its own description does no harm.
func TestUselessMetadata(t *testing.T) {
	want, _ := read(t, excerpt(t))
	e := excerpt(t)
	e["tabular/mstabcol.txt"] = &fstest.MapFile{Data: []byte("\"mapunit\"|1|\"musym\"|||||||||||\r\n\"mapunit\"|x|\"mukey\"|||||||||||\r\n")}
	got, faults := read(t, e)
	if !same(got, want) {
		t.Errorf("a description without keys was followed:\n%s", faults)
	}
	if faults.Notices() == 0 {
		t.Error("nothing was told of it")
	}
}
