package taskdata_test

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/paulmach/orb"

	"rootworthy/export/taskdata"
	"rootworthy/internal/diag"
	"rootworthy/internal/secondopinion"
	"rootworthy/suitability"
)

// odd is a run of fields such as have broken writers before. Their ids say what is odd about them.
func odd() *suitability.Result {
	var m made
	north := 0.0
	moved := func(p orb.Polygon) orb.Polygon {
		out := orb.Polygon{}
		for _, r := range p {
			q := orb.Ring{}
			for _, v := range r {
				q = append(q, orb.Point{v[0], v[1] + north*1e-5})
			}
			out = append(out, q)
		}
		return out
	}
	add := func(id, name string, zones ...orb.Polygon) {
		shape := orb.MultiPolygon{}
		for _, z := range zones {
			shape = append(shape, moved(z))
		}
		m.field(id, name, shape...)
		m.zone(2, tested, shape...)
		north += 1000
	}
	add("triangle", "Wedge", orb.Polygon{ring(0, 0, 200, 10, 40, 150)})
	hole := orb.Polygon{ring(0, 0, 200, 0, 200, 200, 0, 200), ring(50, 50, 50, 150, 150, 150, 150, 50)}
	add("hole", "Pond", hole)
	add("two parts", "Road", rect(0, 0, 100, 100), rect(150, 0, 250, 100))
	add("island in a hole", "Isle", hole, rect(80, 80, 120, 120))
	for _, n := range [][2]string{{"accent", "Prés Ü ñ"}, {"ampersand", "Bell & <Howe>"}, {"quote", `The "Home" one's`}, {"formula", "=cmd|' /C calc'!A0"},
		{"300 letters", strings.Repeat("Long name ", 30)}, {"300 letters again", strings.Repeat("Long name ", 30)}, {"emoji", strings.Repeat("🌱", 40)},
		{"control", "a\x00b\x1b[31m\u202ec\xff\ufffe"}, {"blank", " \t "}} {
		add("name with "+n[0], n[1], rect(0, 0, 100, 100))
	}
	add("smaller than a cell", "Garden", rect(0, 0, 4, 3))
	add("long", "Strip", rect(0, 0, 4000, 12))
	add("zone without a figure", "Half", rect(0, 0, 100, 100))
	north -= 1000
	f := &m.r.Fields[len(m.r.Fields)-1]
	f.Shape = orb.MultiPolygon{moved(rect(0, 0, 200, 100))}
	f.Area = areaOf(f.Shape)
	m.zone(-1, tested, moved(rect(100, 0, 200, 100)))
	return &m.r
}

// TestOddInput: each comes back whole from our own reader, and from the independent one where it is set up.
func TestOddInput(t *testing.T) {
	r := odd()
	for _, form := range []taskdata.Form{taskdata.Grid2, taskdata.Grid1, taskdata.Polygons} {
		for _, version := range []int{3, 4} {
			p := plan(t, r, taskdata.Options{Form: form, Version: version})
			if len(p.Tasks) != len(r.Fields) {
				t.Fatalf("%d tasks for %d fields", len(p.Tasks), len(r.Fields))
			}
			seen := map[string]bool{}
			for i, e := range readBack(t, p) {
				near(t, p.Tasks[i].FieldIDs[0]+": lime", float64(e.Mass), float64(p.Tasks[i].Planned), 0.01)
				n := p.Tasks[i].Name
				if len(utf16.Encode([]rune(n))) > 32 || strings.TrimSpace(n) == "" || strings.ContainsAny(n, "\x00\x1b\u202e") || seen[n] {
					t.Errorf("%s: the task is called %q", p.Tasks[i].FieldIDs[0], n)
				}
				seen[n] = true
			}
			if !testing.Short() && (form == taskdata.Grid2 || version == 4) {
				judge(t, p)
			}
		}
	}
}

// judge gives a plan's files to the independent reader.
func judge(t *testing.T, p *taskdata.Plan) {
	t.Run("independent reader", func(t *testing.T) {
		check, dir := secondopinion.Checker(t, secondopinion.Node), t.TempDir()
		for file, f := range written(t, p) {
			to := filepath.Join(dir, filepath.FromSlash(file))
			if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(to, f.Data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		check("isoxml", dir, "--tolerance-pct", "0.1", "--expect-total-kg", strconv.FormatFloat(float64(p.Planned()), 'f', 3, 64))
	})
}

// TestLargestGrid: 350 cells a side are kept, one more is too many.
func TestLargestGrid(t *testing.T) {
	var m made
	m.field("A", "Wide", rect(0, 0, 3000, 2000))
	m.zone(1, tested, rect(0, 0, 3000, 2000))
	for _, most := range []int{0, 100, 351} {
		p := plan(t, &m.r, taskdata.Options{MaxCells: most})
		if most == 0 {
			most = 350
		}
		f := p.Tasks[0].Frame
		if side := max(f.Rows, f.Columns); side > most || side < most*9/10 {
			t.Errorf("at most %d cells a side: %d × %d", most, f.Columns, f.Rows)
		}
	}
	var faults diag.List
	if _, err := taskdata.Read("made", written(t, plan(t, &m.r, taskdata.Options{MaxCells: 351})), &faults); err != nil || faults.Faults() > 0 {
		t.Error(err, faults.String())
	}
}
