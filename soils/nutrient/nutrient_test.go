package nutrient

import (
	"errors"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// No figure of a built-in table may be given without its edition, source and how it was come by.
func TestEveryMemberHasItsWords(t *testing.T) {
	for _, n := range Nutrients() {
		back, ok := ByCode(n.Code())
		if !ok || back != n || n.Sold() == "" || n.String() == "" || n.Element() == lab.ElementUnknown {
			t.Errorf("%v is not whole", n)
		}
	}
	if _, ok := ByCode(""); ok || NutrientUnknown.Code() != "" {
		t.Error("what is not recorded has a code")
	}
	for _, tab := range Tables() {
		if tab.Edition == "" || tab.Source == "" || tab.Seen != Read {
			t.Errorf("%s: edition %q, source %q, seen %q", tab.Name, tab.Edition, tab.Source, tab.Seen)
		}
		for _, r := range tab.Ratings {
			if r.Extractant != lab.ExtractantUnknown && r.ExtractantSeen != Memory {
				t.Errorf("%s: the extractant of %s is given as %s; it was never read", tab.Name, r.Nutrient, r.ExtractantSeen)
			}
		}
	}
	if len(TablesOf("ga")) != 3 || len(TablesOf("AL")) != 0 {
		t.Errorf("Georgia has %d tables, Alabama %d", len(TablesOf("ga")), len(TablesOf("AL")))
	}
}

// A test that the table is not for is refused with the question.
func TestRefusals(t *testing.T) {
	ga, sc := table(t, "georgia-piedmont"), table(t, "south-carolina")
	figure := func(x lab.Extractant, r lab.Reading[unit.Content]) Soil {
		return Soil{Sample: &lab.Sample{Nutrients: []lab.Nutrient{{Element: lab.Potassium, Extractant: x, ByMass: r}}}}
	}
	at := func(v float64, b lab.Bound) lab.Reading[unit.Content] {
		return lab.Reading[unit.Content]{Value: unit.Some(unit.Content(v)), Bound: b}
	}
	volume := Soil{Sample: &lab.Sample{Nutrients: []lab.Nutrient{{Element: lab.Potassium, Extractant: lab.Mehlich1, ByVolume: lab.Reading[unit.VolumeContent]{Value: unit.Some(unit.VolumeContent(72))}}}}}
	dense := Soil{Sample: &lab.Sample{Density: unit.Some(unit.BulkDensity(1.2)), Nutrients: volume.Sample.Nutrients}}
	for name, c := range map[string]struct {
		t    *Table
		soil Soil
		want string // code, or the class after "="
	}{
		"another extractant":             {ga, figure(lab.Mehlich3, at(50, 0)), WrongExtractant},
		"no extractant":                  {ga, figure(lab.ExtractantUnknown, at(50, 0)), NotStated},
		"not measured":                   {ga, Soil{Sample: &lab.Sample{}}, NotMeasured},
		"no sample":                      {ga, Soil{}, NotMeasured},
		"no number":                      {ga, figure(lab.Mehlich1, at(math.NaN(), 0)), BadValue},
		"negative":                       {ga, figure(lab.Mehlich1, at(-1, 0)), BadValue},
		"not detected":                   {ga, figure(lab.Mehlich1, lab.Reading[unit.Content]{Bound: lab.Below}), BeyondDetection},
		"below a limit in class 1":       {ga, figure(lab.Mehlich1, at(5, lab.Below)), "=low"},
		"below a limit in class 2":       {ga, figure(lab.Mehlich1, at(100, lab.Below)), BeyondDetection},
		"above the last end":             {ga, figure(lab.Mehlich1, at(300, lab.Above)), "=very high"},
		"above the first end":            {ga, figure(lab.Mehlich1, at(100, lab.Above)), BeyondDetection},
		"by volume":                      {ga, volume, NoDensity},
		"by volume, weighed: 60 ppm":     {ga, dense, "=low"},
		"class not printed by the table": {sc, sampled(Potassium, lab.Mehlich1, 100), ClassNeeded},
		"class of another laboratory":    {sc, Soil{Printed: []Printed{{Potassium, "very high"}}}, ClassUnknown},
		"class in capitals":              {sc, Soil{Printed: []Printed{{Potassium, " HIGH "}}}, "=high"},
		"nutrient not in table":          {table(t, "kentucky"), sampled(Potassium, lab.Mehlich3, 100), NotRated},
	} {
		got, err := c.t.Classify(Potassium, c.soil)
		var r *Refusal
		switch {
		case strings.HasPrefix(c.want, "="):
			if err != nil || got.Name != c.want[1:] {
				t.Errorf("%s: %q, %v; want %s", name, got.Name, err, c.want)
			}
		case !errors.As(err, &r) || r.Code != c.want || r.What == "" || r.Fix == "":
			t.Errorf("%s: %v; want %s", name, err, c.want)
		}
	}
	_, err := ga.Classify(Potassium, figure(lab.Mehlich3, at(50, 0)))
	if s := err.Error(); !strings.Contains(s, "Mehlich-3") || !strings.Contains(s, "Mehlich-1") || !strings.Contains(s, "ask the laboratory") {
		t.Errorf("the question does not name both: %s", s)
	}
}

// Where one class is not known the rate stands only if it is the same whatever it is.
func TestOneClassMissing(t *testing.T) {
	sc := table(t, "south-carolina")
	needs := sc.Require(Soil{Printed: []Printed{{Potassium, "medium"}}}, Ask{})
	if k := find(t, needs, Potassium); k.Rate.Or(-1).PoundsPerAcre() != 200 {
		t.Errorf("potash hangs on phosphorus: %+v", k)
	}
	needs = sc.Require(Soil{Printed: []Printed{{Phosphorus, "low"}}}, Ask{})
	if p := find(t, needs, Phosphorus); p.Rate.Has() || p.Refusal.Code != OtherClassNeeded {
		t.Errorf("phosphate of the odd row without a potassium class: %+v", p)
	}
	needs = sc.Require(Soil{Printed: []Printed{{Phosphorus, "medium"}}}, Ask{})
	if p := find(t, needs, Phosphorus); p.Rate.Or(-1).PoundsPerAcre() != 100 {
		t.Errorf("phosphate is 100 whatever the potassium: %+v", p)
	}
}

// own is a table with figures all over, for the properties.
const own = `name = "own"
edition = "1"
source = "invented for the test"
[[rating]]
nutrient = "p"
extractant = "m3"
unit = "ppm"
classes = ["a", "b", "c"]
to = [12.5, 40]
[[rating]]
nutrient = "k"
extractant = "m3"
unit = "lb/ac"
slice_lb_ac = 2400000
classes = ["a", "b"]
to = [150]
[[rating]]
nutrient = "mg"
extractant = "m3"
unit = "ppm"
classes = ["low", "high"]
to = [50]
[[rating]]
nutrient = "s"
unit = "ppm"
classes = ["low", "high"]
to = [8]
[[rate]]
p = "a"
k = "a"
p2o5 = 90
k2o = 200
[[rate]]
p = "b"
k = "a"
p2o5 = 40
k2o = 200
[[rate]]
p = "c"
k = "a"
p2o5 = 0
k2o = 180
[[rate]]
p = "a"
k = "b"
p2o5 = 80
k2o = 60
[[rate]]
p = "b"
k = "b"
p2o5 = 40
k2o = 60
[[rate]]
p = "c"
k = "b"
p2o5 = 0
k2o = 0
[[fixed]]
nutrient = "s"
stage = "establish"
class = "low"
lb_ac = 20
[[fixed]]
nutrient = "mg"
stage = "establish"
class = "low"
lb_ac = 25
[[fixed]]
nutrient = "b"
stage = "establish"
below_lb_ac = 1
lb_ac = 2
[[extra]]
nutrient = "k"
stage = "maintain"
lb_ac = 100
for = "the stand"
parts = [1, 1]
when = ["spring", "fall"]
`

// ownTable is the invented table above, read as a user's would be.
func ownTable(t interface{ Fatal(...any) }) *Table {
	var faults diag.List
	tab, ok, err := ReadTable("own.toml", strings.NewReader(own), &faults)
	if !ok || err != nil {
		t.Fatal(err, faults.String())
	}
	return tab
}

// soilOf is a sample by Mehlich 3; elements that are not named are measured as 0.
func soilOf(at map[lab.Element]float64) Soil {
	s := &lab.Sample{}
	for _, e := range []lab.Element{lab.Phosphorus, lab.Potassium, lab.Magnesium, lab.Sulfur, lab.Boron} {
		s.Nutrients = append(s.Nutrients, lab.Nutrient{Element: e, Extractant: lab.Mehlich3, ByMass: lab.Reading[unit.Content]{Value: unit.Some(unit.Content(at[e]))}})
	}
	return Soil{Sample: s}
}

// More of a nutrient in the soil never asks for more of any fertilizer.
func TestMoreInTheSoilNeverAsksForMore(t *testing.T) {
	tab := ownTable(t)
	elements := []lab.Element{lab.Phosphorus, lab.Potassium, lab.Magnesium, lab.Sulfur, lab.Boron}
	rapid.Check(t, func(t *rapid.T) {
		poor, rich := map[lab.Element]float64{}, map[lab.Element]float64{}
		for _, e := range elements {
			poor[e] = rapid.Float64Range(0, 200).Draw(t, "poor "+e.Code())
			rich[e] = poor[e] + rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 100)).Draw(t, "more "+e.Code())
		}
		ask := Ask{Stage: rapid.SampledFrom(Stages()).Draw(t, "stage"), Lime: rapid.Bool().Draw(t, "lime")}
		a, b := tab.Require(soilOf(poor), ask), tab.Require(soilOf(rich), ask)
		for i := range a {
			x, okA := a[i].Rate.Get()
			y, okB := b[i].Rate.Get()
			if okA != okB || y > x {
				t.Fatalf("%v: %v in poor soil, %v in rich", a[i].Nutrient, a[i], b[i])
			}
		}
	})
}

// The same for every table of the program that has a matrix, class by class.
func TestRicherClassNeverAsksForMore(t *testing.T) {
	n := 0
	for _, tab := range Tables() {
		if len(tab.Rates) == 0 {
			continue
		}
		p, k := tab.rating(Phosphorus).Classes, tab.rating(Potassium).Classes
		for i := range p {
			for j := range k {
				here := tab.cells(Phosphorus, p[i], k[j])[0]
				for _, x := range [][2]int{{i - 1, j}, {i, j - 1}} {
					if x[0] < 0 || x[1] < 0 {
						continue
					}
					n++
					if was := tab.cells(Phosphorus, p[x[0]], k[x[1]])[0]; here.P2O5 > was.P2O5 || here.K2O > was.K2O {
						t.Errorf("%s: %v asks for more than %v", tab.Name, here, was)
					}
				}
			}
		}
	}
	if n < 40 {
		t.Errorf("only %d pairs seen", n)
	}
}

// Parts of a rate add up to it, and every need has a rate, a reason or a refusal.
func TestNeedsAreWhole(t *testing.T) {
	soils := []Soil{{}, sampled(Potassium, lab.Mehlich1, 80), sampled(Boron, lab.HotWater, 1), classes("low", "high"), classes("excessive", "excessive"),
		soilOf(map[lab.Element]float64{lab.Potassium: 40})}
	for _, tab := range append(slices.Clone(Tables()), ownTable(t)) {
		for _, s := range soils {
			for _, stage := range Stages() {
				for _, need := range tab.Require(s, Ask{Stage: stage}) {
					checkNeed(t, fmt.Sprintf("%s, %s, %v", tab.Name, stage, need.Nutrient), need)
				}
			}
		}
	}
}

// checkNeed holds for every need of every table: a rate or a reason for none, a source, and codes of the lists only.
func checkNeed(t *testing.T, name string, need Need) {
	t.Helper()
	r, ok := need.Rate.Get()
	if !ok && need.Refusal == nil && need.Why == "" || ok && need.Refusal != nil || ok && r == 0 && need.Why == "" || need.Source == "" {
		t.Errorf("%s: %+v", name, need)
	}
	sum := 0.0
	for _, p := range need.Parts {
		sum += float64(p.Share)
	}
	if r > 0 && math.Abs(sum-1) > 1e-12 {
		t.Errorf("%s: parts add up to %v", name, sum)
	}
	if need.Refusal != nil && !slices.Contains(Refusals(), need.Refusal.Code) || need.Why != "" && !slices.Contains(Whys(), need.Why) {
		t.Errorf("%s: a code of no list: %+v", name, need)
	}
	for _, n := range need.Notes {
		if !slices.Contains(Notes(), n) {
			t.Errorf("%s: note %q of no list", name, n)
		}
	}
}

// Before a test the span of a table is what can be told; a table whose rates were not readable has none.
func TestExpectation(t *testing.T) {
	e, ok := table(t, "south-carolina").Expect(Potassium, Establish)
	if !ok || e.Least != 0 || math.Abs(e.Most.PoundsPerAcre()-300) > 1e-9 {
		t.Errorf("South Carolina potash: %+v, %v; the matrix runs from 0 to 300 (%s)", e, ok, clemson)
	}
	if _, ok := table(t, "georgia-piedmont").Expect(Potassium, Establish); ok {
		t.Error("Georgia's rates were not readable, and yet there is an expectation")
	}
	if e, ok := table(t, "georgia-piedmont").Expect(Boron, Establish); !ok || e.Least != e.Most {
		t.Errorf("boron: %+v", e)
	}
}

// Faults are marked in the text; each is told where it stands.
func TestTableFaults(t *testing.T) {
	for name, c := range map[string]struct{ from, to, kind string }{
		"not TOML":              {"classes = [\"a\", \"b\", \"c\"]\nto", "classes = [\"a\", \n«to", "not TOML"},
		"unknown key":           {"unit = \"ppm\"\nclasses = [\"a\", \"b\", \"c\"]", "«units = \"ppm\"\nclasses = [\"a\", \"b\", \"c\"]", "unknown key"},
		"no source":             {`source = "invented for the test"`, ``, "missing key"},
		"unknown extractant":    {"[[rating]]\nnutrient = \"p\"\nextractant = \"m3\"", "«[[rating]]\nnutrient = \"p\"\nextractant = \"m9\"", "unknown extractant"},
		"unknown nutrient":      {"[[rating]]\nnutrient = \"mg\"", "«[[rating]]\nnutrient = \"ca\"", "unknown nutrient"},
		"ends fall":             {"[[rating]]\nnutrient = \"p\"\nextractant = \"m3\"\nunit = \"ppm\"\nclasses = [\"a\", \"b\", \"c\"]\nto = [12.5, 40]", "«[[rating]]\nnutrient = \"p\"\nextractant = \"m3\"\nunit = \"ppm\"\nclasses = [\"a\", \"b\", \"c\"]\nto = [40, 12.5]", "does not rise"},
		"an end too many":       {"to = [150]", "to = [150, 200]", "row length"},
		"class twice":           {`classes = ["a", "b", "c"]`, `classes = ["a", "b", "A"]`, "name not its own"},
		"rises with the soil":   {"p2o5 = 40\nk2o = 200", "p2o5 = 95\nk2o = 200", "rises"},
		"pair missing":          {"[[rate]]\np = \"c\"\nk = \"b\"\np2o5 = 0\nk2o = 0\n", "", "pair missing"},
		"pair twice":            {"[[fixed]]\nnutrient = \"s\"", "«[[rate]]\np = \"c\"\nk = \"b\"\n[[fixed]]\nnutrient = \"s\"", "pair twice"},
		"class of no rating":    {"[[rate]]\np = \"a\"\nk = \"a\"", "«[[rate]]\np = \"z\"\nk = \"a\"", "unknown class"},
		"negative rate":         {"p2o5 = 90", "p2o5 = -90", "out of range"},
		"product for boron":     {"[[fixed]]\nnutrient = \"b\"\nstage = \"establish\"\nbelow_lb_ac = 1\nlb_ac = 2", "«[[fixed]]\nnutrient = \"b\"\nstage = \"establish\"\nbelow_lb_ac = 1\nlb_ac = 20", "too much boron"},
		"unknown stage":         {"[[extra]]\nnutrient = \"k\"\nstage = \"maintain\"", "«[[extra]]\nnutrient = \"k\"\nstage = \"always\"", "unknown stage"},
		"a part without a date": {`when = ["spring", "fall"]`, `when = ["spring"]`, "row length"},
		"too much molybdenum":   {"[[extra]]", "«[seed_molybdenum]\nmo_oz = 0.3\nmolybdate_oz = 0.8\nseed_lb = 60\n[[extra]]", "dose"},
	} {
		if !strings.Contains(own, c.from) {
			t.Fatalf("%s: the text to replace is not there", name)
		}
		text := strings.Replace(own, c.from, c.to, 1)
		wantLine := 0
		if before, after, marked := strings.Cut(text, "«"); marked {
			text, wantLine = before+after, 1+strings.Count(before, "\n")
		}
		var faults diag.List
		_, ok, err := ReadTable("own.toml", strings.NewReader(text), &faults)
		if ok || err != nil {
			t.Errorf("%s: read, %v", name, err)
			continue
		}
		f := faults.Kept()[0]
		if f.Kind != c.kind || wantLine > 0 && f.Line != wantLine || f.Fix == "" {
			t.Errorf("%s: %+v, want %q at line %d", name, f, c.kind, wantLine)
		}
	}
}

// A table that passes the reader answers for every nutrient, whatever the soil.
func FuzzReadTable(f *testing.F) {
	f.Add(own)
	entries, _ := os.ReadDir("tables")
	for _, e := range entries {
		if b, err := os.ReadFile("tables/" + e.Name()); err == nil {
			f.Add(string(b))
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		var faults diag.List
		tab, ok, err := ReadTable("x.toml", strings.NewReader(text), &faults)
		if ok == (faults.Faults() > 0) && err == nil {
			t.Fatalf("ok %v with %d faults", ok, faults.Faults())
		}
		if !ok {
			return
		}
		for _, s := range []Soil{{}, soilOf(map[lab.Element]float64{lab.Potassium: 50})} {
			if got := len(tab.Require(s, Ask{})); got != len(Nutrients()) {
				t.Fatalf("%d needs", got)
			}
		}
	})
}
