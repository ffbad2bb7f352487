package variety

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

const trial = `variety,dormancy,region,trial,yield_ton_ac,lsd_ton_ac,persistence_pct,Anthracnose,bacterial  wilt
alder,6,piedmont,2025,5.1,0.4,88,HR,R
birch,4,piedmont,2025,5.3,0.4,91,HR,HR
cedar,7,piedmont,2025,4.7,0.4,80,MR,LR
dogwood,8,piedmont,2025,4.9,0.4,,22,
elm,5,coast,2024,6.0,,70,R,50
`

// read fails the test only when the text cannot be read at all.
func read(t *testing.T, text string) (*Table, *diag.List) {
	t.Helper()
	var faults diag.List
	tab, _, err := Read("own.csv", strings.NewReader(text), &faults)
	if err != nil {
		t.Fatal(err)
	}
	return tab, &faults
}

// The order of the list, what fails or lacks, and who is at the top of the trial; then the same table for another need.
func TestShortList(t *testing.T) {
	tab, faults := read(t, trial)
	if faults.Faults() != 0 || !reflect.DeepEqual(tab.Diseases, []string{"anthracnose", "bacterial wilt"}) {
		t.Fatalf("%v %v", faults, tab.Diseases)
	}
	var got []string
	for _, j := range ShortList(tab, Need{Region: "Piedmont"}) {
		s := j.Name + ":" + string(j.Verdict)
		for _, tr := range j.Traits {
			s += " " + tr.Name + "=" + tr.Found
		}
		if j.Top {
			s += " top"
		}
		got = append(got, s)
	}
	want := []string{"alder:listed top", "dogwood:not known bacterial wilt= top", "elm:fails region=coast", "birch:fails dormancy=4 top", "cedar:fails bacterial wilt=LR"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	// With another need others pass.
	for _, j := range ShortList(tab, Need{DormancyFrom: 4, DormancyTo: 4, Least: HighlyResistant, Diseases: []string{"ANTHRACNOSE"}}) {
		if (j.Verdict == Listed) != (j.Name == "birch") {
			t.Errorf("%s: %s %v", j.Name, j.Verdict, j.Traits)
		}
	}
}

// A persistence that is asked for: reached, missed, and not in the table.
func TestPersistence(t *testing.T) {
	tab, _ := read(t, trial)
	for _, j := range ShortList(tab, Need{DormancyFrom: 1, DormancyTo: 11, Least: Susceptible, Diseases: []string{"anthracnose"}, Persistence: unit.Some(unit.Percent(85))}) {
		want := map[string]Verdict{"alder": Listed, "birch": Listed, "cedar": Out, "dogwood": Open, "elm": Out}[j.Name]
		if j.Verdict != want {
			t.Errorf("%s: %s %v, want %s", j.Name, j.Verdict, j.Traits, want)
		}
	}
}

// A trial without a least significant difference puts nobody on top.
func TestNoDifferenceWithoutLSD(t *testing.T) {
	tab, _ := read(t, trial)
	for _, j := range ShortList(tab, Need{}) {
		if j.Name == "elm" && (j.Top || !j.NoLSD) {
			t.Errorf("%+v", j)
		}
	}
}

// The only one of a trial in the table is the best of nothing; nor is one whose fellows have no yield.
func TestNoBestOfOne(t *testing.T) {
	tab, _ := read(t, "variety,dormancy,trial,yield_ton_ac,lsd_ton_ac\nash,6,T1,5,0.4\nbox,6,T1,,0.4\n")
	for _, j := range ShortList(tab, Need{}) {
		if j.Top {
			t.Errorf("%s is among the best of one", j.Name)
		}
	}
}

// A column of remarks or prices is no disease that nobody resists; one wrong cell does not make a column one of remarks. Percent may be
// written with its sign.
func TestRemarksAreNoDisease(t *testing.T) {
	tab, faults := read(t, "variety,dormancy,anthracnose,remarks,wilt\nash,6,R,early,70 %\nbox,6,HR,\"late, tall\",no\n")
	if !reflect.DeepEqual(tab.Diseases, []string{"anthracnose", "wilt"}) || faults.Notices() != 1 || faults.Faults() != 1 {
		t.Fatalf("%v, %v", tab.Diseases, faults)
	}
	for _, j := range ShortList(tab, Need{Diseases: []string{"anthracnose"}}) {
		if j.Verdict != Listed {
			t.Errorf("%s: %s %v", j.Name, j.Verdict, j.Traits)
		}
	}
	if got := tab.Varieties[0].Resistances; !reflect.DeepEqual(got, []Resistance{Resistant, HighlyResistant}) {
		t.Errorf("ash resists %v", got)
	}
}

// fd-1 (read): University of Nebraska, Understanding fall dormancy in alfalfa (2024). That the Southeast wants 5 to 8, and resistance at
// least moderate, is common practice, no source.
func TestDormancy(t *testing.T) {
	from, to := Need{}.dormancy()
	if DormancyScale != 11 || from != 5 || to != 8 || NeedStatus != suitability.Practice {
		t.Errorf("dormancy %g to %g of %d, %s", from, to, DormancyScale, NeedStatus)
	}
	tab, _ := read(t, trial)
	for name, bad := range map[string]Need{"turned round": {DormancyFrom: 8, DormancyTo: 5}, "off the scale": {DormancyTo: 12}, "no such disease": {Diseases: []string{"rust"}},
		"no number": {DormancyFrom: math.NaN()}} {
		if bad.Check(tab) == nil {
			t.Errorf("%s passes", name)
		}
	}
	if err := (Need{Diseases: []string{"Bacterial wilt"}}).Check(tab); err != nil {
		t.Error(err)
	}
}

// Source: Cornell University CCA study material, PO 18, and seed catalogs, whose classes meet at whole percent.
func TestResistanceClasses(t *testing.T) {
	for p, want := range map[unit.Percent]string{0: "S", 5: "S", 6: "LR", 14: "LR", 15: "MR", 30: "MR", 31: "R", 50: "R", 51: "HR", 100: "HR", -1: "", 101: "", unit.Percent(math.NaN()): ""} {
		if got := OfShare(p).Code(); got != want {
			t.Errorf("%v %% = %q, want %q", p, got, want)
		}
	}
	for _, r := range Resistances() {
		if back, ok := parseResistance(strings.ToLower(r.Code())); !ok || back != r || r.String() == "" {
			t.Errorf("%v does not come back", r)
		}
	}
}

// One fault a case, its place marked with « ».
func TestFaults(t *testing.T) {
	for name, c := range map[string]struct{ marked, field, kind string }{
		"empty":         {"«", "", "no header"},
		"no dormancy":   {"«variety,region\na,b\n", "dormancy", "missing column"},
		"column twice":  {"«variety,dormancy,dormancy\n", "dormancy", "column twice"},
		"bad dormancy":  {"variety,dormancy\na,«12»\n", "dormancy", "out of range"},
		"no name":       {"variety,dormancy\na,6\n«,6\n", "variety", "no name"},
		"variety twice": {"variety,dormancy\na,6\n«A,7\n", "variety", "variety twice"},
		"no resistance": {"variety,dormancy,rust\na,6,«X»\n", "rust", "no resistance"},
		"too long":      {"variety,dormancy\n«a,6,7\n", "", "row length"},
		"quote":         {"variety,dormancy\na,«6\"5\n", "", "not CSV"},
	} {
		line := 1 + strings.Count(c.marked[:strings.Index(c.marked, "«")], "\n")
		_, faults := read(t, strings.NewReplacer("«", "", "»", "").Replace(c.marked))
		kept := faults.Kept()
		if len(kept) == 0 || kept[0].Line != line || kept[0].Field != c.field || kept[0].Kind != c.kind || kept[0].Fix == "" {
			t.Errorf("%s: %+v, want %s %q at line %d", name, kept, c.field, c.kind, line)
		}
	}
}

// Every variety of the table is judged, and listed exactly where no trait speaks against it.
func FuzzRead(f *testing.F) {
	f.Add(trial)
	f.Add("variety,dormancy\n\"a\",\n")
	f.Fuzz(func(t *testing.T, text string) {
		var faults diag.List
		tab, ok, err := Read("x.csv", strings.NewReader(text), &faults)
		if err != nil || !ok {
			return
		}
		list := ShortList(tab, Need{})
		if len(list) != len(tab.Varieties) {
			t.Fatalf("%d judged of %d", len(list), len(tab.Varieties))
		}
		for _, j := range list {
			if (j.Verdict == Listed) != (len(j.Traits) == 0) {
				t.Fatalf("%s: %v %v", j.Name, j.Verdict, j.Traits)
			}
		}
	})
}

// A table is the same whatever separates its cells.
func TestSemicolonsAndTabs(t *testing.T) {
	plain := "variety,dormancy,yield_ton_ac,rust\nA,6,5.5,HR\nB,7,,\n"
	want, faults := read(t, plain)
	if len(want.Varieties) != 2 || faults.Faults() > 0 {
		t.Fatal(want, faults)
	}
	for _, separator := range []string{";", "\t"} {
		got, faults := read(t, strings.ReplaceAll(plain, ",", separator))
		if !reflect.DeepEqual(got, want) || faults.Faults() > 0 {
			t.Errorf("%q: %+v, want %+v: %v", separator, got, want, faults)
		}
	}
}
