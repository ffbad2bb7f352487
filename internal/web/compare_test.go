package web

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"rootworthy/internal/run"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// shelved serves the demonstration as run 1, and as run 2 what change makes of it.
func shelved(t *testing.T, change func(*suitability.Result)) *site {
	t.Helper()
	var sources []Source
	for i := range 2 {
		r := screenDemo(t, nil)
		if i == 1 {
			change(r)
		}
		dir := t.TempDir()
		if err := run.Write(dir, r); err != nil {
			t.Fatal(err)
		}
		sources = append(sources, Source{Name: fmt.Sprintf("run-%d", i+1), Files: os.DirFS(dir)})
	}
	s, err := New(Config{Program: "rootworthy test", Runs: sources})
	if err != nil {
		t.Fatal(err)
	}
	return start(t, s)
}

// Ground is found again whatever it is called: another id, other numbers of zones, another key of the map unit.
func TestGroundIsFoundWhateverItIsCalled(t *testing.T) {
	s := shelved(t, func(r *suitability.Result) {
		for i := range r.Fields {
			f := &r.Fields[i]
			f.ID = "N" + f.ID
			for k, z := range slices.Backward(f.Zones) {
				zone := &r.Zones[z]
				zone.FieldID, zone.Number, zone.MapUnitKey = f.ID, len(f.Zones)-k, "9"+zone.MapUnitKey
				zone.ID = fmt.Sprintf("%s/%d", f.ID, zone.Number)
			}
			slices.Reverse(f.Zones)
		}
	})
	code, text := s.get("/compare?a=1&b=2")
	for _, want := range []string{"All 545 acres (220.7 ha) of ground that both runs have are of the same class", "Nothing differs in class"} {
		if code != 200 || !strings.Contains(text, want) {
			t.Errorf("%d; the page lacks %q", code, want)
		}
	}
	code, table := s.get("/compare/changes.csv?a=1&b=2")
	if code != 200 || !strings.Contains(table, "\nF1,NF1,") || strings.Contains(table, "class+") || strings.Count(table, ",none,") < 9 {
		t.Errorf("%d; the table:\n%s", code, table)
	}
}

// Ground that changed class stands on the page with both classes, what limits it, its zones and how much of them it is.
func TestGroundThatChangedIsListed(t *testing.T) {
	s := shelved(t, func(r *suitability.Result) {
		for i := range r.Zones {
			if z := &r.Zones[i]; z.ID == "F2/1" {
				z.Rating.Class, z.Rating.ClassToday, z.Rating.Limiting = suitability.Unsuited, suitability.Unsuited, suitability.Drainage
				z.Rating.Values.PHSurface, z.Lime.Likely = unit.Some(unit.PH(6.45)), unit.None[unit.AreaRate]()
			}
		}
	})
	_, text := s.get("/compare?a=1&b=2")
	_, turns, _ := strings.Cut(text, `id="turns"`)
	turns, list, _ := strings.Cut(turns, `id="differs"`)
	for part, wants := range map[string][]string{
		text:  {"; 66.1 are worse.", "The pH of the topsoil is higher on 66.1 acres, by 1.0 in the mean.", "The lime figure is known only in run-1 on 66.1 acres."},
		turns: {"Suited</", "today unsuited", "surface pH, which lime mends", ">drainage<", ">66.1<"},
		list:  {"Kiln Field (F2)", `href="/run/1/zone/2">F2/1</a>`, `href="/run/2/zone/2">F2/1</a>`, "all of it", `class="ph n differs">6.`, `class="rate n differs">–`},
	} {
		for _, want := range wants {
			if !strings.Contains(part, want) {
				t.Errorf("there is no %q in\n%.3000s", want, part)
			}
		}
	}
	if n := strings.Count(list, "<tr>"); n != 2 { // the head, and one piece of ground
		t.Errorf("%d rows", n-1)
	}
	for _, path := range []string{"/compare?a=1", "/compare?a=1&b=9", "/compare/changes.csv?a=x&b=1"} {
		if code, _ := s.get(path); code != 404 {
			t.Errorf("%s: %d", path, code)
		}
	}
}

// A sum of pure lime and one of lime as sold stand side by side without a difference.
func TestTwoKindsOfLimeAreNotSubtracted(t *testing.T) {
	for _, c := range []struct {
		sold       bool
		want, none string
	}{{false, "lime at 100 % CCE", "cannot be compared"}, {true, "pure (100 % CCE), or as sold", `<td class="n">±0</td></tr></tbody>`}} {
		s := shelved(t, func(r *suitability.Result) {
			for i := range r.Zones {
				r.Zones[i].Lime.AsSold = c.sold
			}
		})
		_, text := s.get("/compare?a=1&b=2")
		if !strings.Contains(text, c.want) || strings.Contains(text, c.none) || strings.Contains(text, "cannot be compared") != c.sold {
			t.Errorf("as sold %v: no %q, or %q, in\n%.3000s", c.sold, c.want, c.none, text)
		}
	}
}
