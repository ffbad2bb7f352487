package geopackage

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/feature"
)

// TestTablesOfASurvey: a survey's tables are found in any capitals, their columns too, and values are text whatever
// they are stored as.
func TestTablesOfASurvey(t *testing.T) {
	db, faults := open(t, script(t,
		`CREATE TABLE "MAPUNIT" (MUKEY TEXT, musym VARCHAR(6), muacres DATETIME, "odd ""name" REAL)`,
		`INSERT INTO mapunit VALUES ('570', 'ApB', '2024-01-02', 0.1), (571, 7, 8, 9), (NULL, x'00ff', 1e300, 1e15), (' 572 ', '', -0.0, 12345678901234567890)`,
		`CREATE TABLE component (cokey INTEGER PRIMARY KEY, mukey) WITHOUT ROWID`, `INSERT INTO component VALUES (2, 'b'), (1, 'a')`))
	table, ok := db.Table("MapUnit")
	if !ok || table.Name != "MAPUNIT" || table.Column("MuSym") != 1 || table.Column("none") != -1 || len(table.Columns) != 4 {
		t.Fatalf("%+v %v", table, ok)
	}
	var got []string
	err := table.Rows(t.Context(), []string{"mukey", "none", "MUSYM", "muacres", `odd "name`}, func(r *Row) error {
		got = append(got, fmt.Sprintf("%d|%s|%s|%s|%s|%s|%s", r.Index, r.Text(0), r.Text(1), r.Text(2), r.Text(3), r.Text(4), r.JSON(0)))
		return nil
	})
	want := []string{`0|570||ApB|2024-01-02|0.1|"570"`, `1|571||7|8|9|"571"`, "2||||1e+300|1000000000000000|null", `3| 572 |||0|12345678901234567000|" 572 "`}
	if err != nil || !reflect.DeepEqual(got, want) || len(faults.Kept()) > 0 {
		t.Errorf("got\n%s\nwant\n%s\n%v %v", strings.Join(got, "\n"), strings.Join(want, "\n"), err, faults)
	}
	var keys []string
	component, _ := db.Table("component")
	if err := component.Rows(t.Context(), nil, func(r *Row) error { keys = append(keys, r.Text(0)+r.Text(1)); return nil }); err != nil || !reflect.DeepEqual(keys, []string{"1a", "2b"}) {
		t.Errorf("%v %v", keys, err)
	}
	if _, ok := db.Table("chorizon"); ok || len(db.Tables()) != 2 {
		t.Errorf("tables %v", db.Tables())
	}
	if _, err := db.Layer(t.Context(), ""); err == nil || err.Error() != "f.gpkg: holds no layers, only tables without shapes" {
		t.Errorf("layers: %v", err)
	}
}

// TestKeysThatAreData: a key is an attribute unless it only counts rows; layers listed in error are passed over.
func TestKeysThatAreData(t *testing.T) {
	db, _ := open(t, script(t,
		`CREATE TABLE geometry_columns (f_table_name TEXT, f_geometry_column TEXT, srid INTEGER)`, `INSERT INTO geometry_columns VALUES ('a', 'g', 4326), ('b', 'g', 0), ('gone', 'g', 0), ('a', 'none', 0)`,
		`CREATE TABLE a (tract INTEGER PRIMARY KEY, g, name)`, `INSERT INTO a VALUES (77, NULL, 'x')`,
		`CREATE TABLE b (k1, k2, g, PRIMARY KEY (k1, k2))`, `INSERT INTO b VALUES (1, 2, NULL)`))
	_, a := readLayer(t, db, "a")
	_, b := readLayer(t, db, "b")
	if want := []string{`0 77 [] tract=77 name="x"`, `0  [] k1=1 k2=2`}; !reflect.DeepEqual(show(append(a, b...)), want) {
		t.Errorf("got %q, want %q", show(append(a, b...)), want)
	}
}

// TestAnyRowsComeBack: values of each type, missing ones, any text, in any order.
func TestAnyRowsComeBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		cols := []feature.Column{{Name: "t"}, {Name: "i", Type: feature.Integer}, {Name: "r", Type: feature.Real}, {Name: "b", Type: feature.Bool}}
		text := rapid.String().Filter(func(s string) bool { return !strings.Contains(s, "\x00") })
		row := rapid.Custom(func(t *rapid.T) []any {
			all := []any{text.Draw(t, "t"), rapid.Int64().Draw(t, "i"), rapid.Float64().Draw(t, "r") + 0, rapid.Bool().Draw(t, "b")}
			for i := range all {
				if rapid.Bool().Draw(t, "missing") {
					all[i] = nil
				}
			}
			return all
		})
		rows := rapid.SliceOfN(row, 1, 20).Draw(rt, "rows")
		l := Content{Name: "a", Columns: cols, Rows: func(yield func(orb.MultiPolygon, []any) bool) {
			for i, r := range rows {
				if !yield(orb.MultiPolygon{{square(float64(i), 0, 1)}}, r) {
					return
				}
			}
		}}
		db, _ := open(t, made(t, l))
		_, got := readLayer(t, db, "a")
		if len(got) != len(rows) {
			rt.Fatalf("%d rows of %d", len(got), len(rows))
		}
		for i, f := range got {
			for k, p := range f.Properties {
				if string(p.Value) != string(feature.JSON(rows[i][k])) {
					rt.Fatalf("row %d %s: %s, written %v", i, p.Name, p.Value, rows[i][k])
				}
			}
		}
	})
}
