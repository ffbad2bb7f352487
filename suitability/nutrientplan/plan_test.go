package nutrientplan

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/soils/lab"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// table and grade give what cannot fail, for tests and fuzzing alike.
func table(t interface{ Fatal(...any) }, name string) *nutrient.Table {
	tab, ok := nutrient.TableByName(name)
	if !ok {
		t.Fatal("no table " + name)
	}
	return tab
}

func grade(t interface{ Fatal(...any) }, g string) Product {
	p, err := Grade(g)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

var borate = Product{Name: "borate 15 % B", For: nutrient.Boron, Holds: []Holding{{nutrient.Boron, 15}}}

// soil is a test with classes as South Carolina's laboratory prints them, and boron in lb/ac.
func soil(p, k string, boron float64) Test {
	b := lab.Nutrient{Element: lab.Boron, ByMass: lab.Reading[unit.Content]{Value: unit.Some(unit.ContentFromPoundsPerAcre(boron, 2e6))}}
	return Test{Soil: nutrient.Soil{Sample: &lab.Sample{Nutrients: []lab.Nutrient{b}}, Printed: []nutrient.Printed{{Nutrient: nutrient.Phosphorus, Class: p}, {Nutrient: nutrient.Potassium, Class: k}}}}
}

// Nutrient to product by the label, and grades that are none.
func TestProductArithmetic(t *testing.T) {
	for _, c := range []struct {
		name           string
		got, want, tol float64
		source         string
	}{
		{"fert-01: 200 lb K2O as 0-0-60", Needed(grade(t, "0-0-60"), nutrient.Potassium, 200.0), 333.333, 0.01, "definition; computed"},
		{"fert-02: 100 lb P2O5 as 0-46-0", Needed(grade(t, "0-46-0"), nutrient.Phosphorus, 100.0), 217.391, 0.01, "definition; computed"},
		{"bo-01: 3 lb B as borate of 15 %", Needed(borate, nutrient.Boron, 3.0), 20, 1e-6, "from memory, not checked; the grade is read from the label"},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s = %v, want %v (%s)", c.name, c.got, c.want, c.source)
		}
	}
	for _, bad := range []string{"", "0-0", "0-0-0", "60", "a-b-c", "50-50-50", "-1-0-60", "0-0-NaN"} {
		if p, err := Grade(bad); err == nil {
			t.Errorf("Grade(%q) = %+v", bad, p)
		}
	}
	if p := grade(t, "11-52-0"); p.For != nutrient.Phosphorus || p.Nitrogen != 11 {
		t.Errorf("%+v", p)
	}
}

// A product that kills seedlings is refused, as is all else that cannot be meant.
func TestBoronNeverInTheSeedRow(t *testing.T) {
	in := borate
	in.InRow = true
	if err := (Options{Products: []Product{in}}).Check(); err == nil || !strings.Contains(err.Error(), "seed row") {
		t.Errorf("boron in the seed row: %v", err)
	}
	for name, o := range map[string]Options{
		"no name":      {Products: []Product{{For: nutrient.Boron, Holds: borate.Holds}}},
		"name twice":   {Products: []Product{borate, borate}},
		"holds none":   {Products: []Product{{Name: "x", For: nutrient.Sulfur, Holds: borate.Holds}}},
		"over 100 %":   {Products: []Product{{Name: "x", For: nutrient.Boron, Nitrogen: 90, Holds: borate.Holds}}},
		"yield":        {Yield: unit.Some(unit.ShortTonsPerAcre(30))},
		"yield no num": {Yield: unit.Some(unit.AreaRate(math.NaN()))},
		"seed":         {Seed: -1},
		"stage":        {Stage: "later"},
	} {
		if o.Check() == nil {
			t.Errorf("%s: passes", name)
		}
	}
	if err := (Options{Products: []Product{borate, grade(t, "0-0-60")}, Yield: unit.Some(unit.ShortTonsPerAcre(5)), Seed: 10}).Check(); err != nil {
		t.Error(err)
	}
}

// Two bags that disagree: the mean, the span beside it, and parts that add up to it.
func TestZoneWithTests(t *testing.T) {
	o := Options{Table: table(t, "south-carolina"), Stage: nutrient.Maintain, Products: []Product{grade(t, "0-46-0"), grade(t, "0-0-60"), borate}}
	z := Zone{ID: "a/1", FieldID: "a", Area: unit.Acres(10), Class: suitability.Suited, Tests: []Test{soil("low", "low", 1), soil("low", "medium", 5)}}
	p := Make([]Zone{z}, o)
	k, b := p.Zones[0].Rates[0], p.Zones[0].Rates[4]
	if k.Nutrient != nutrient.Potassium || math.Abs(k.Rate.Or(0).PoundsPerAcre()-350) > 1e-9 || math.Abs(k.Least.PoundsPerAcre()-300) > 1e-9 {
		t.Errorf("potash is the mean of 300 and 200, and 100 on top: %+v", k)
	}
	if math.Abs(b.Rate.Or(0).PoundsPerAcre()-1.5) > 1e-9 {
		t.Errorf("boron is the mean of 3 and 0: %+v", b)
	}
	sum := unit.AreaRate(0)
	for _, a := range k.When {
		sum += a.Rate
	}
	if math.Abs(float64(sum/k.Rate.Or(0))-1) > 1e-12 {
		t.Errorf("applications add up to %v of %v", sum, k.Rate)
	}
	if got := p.Order[1].Mass.Pounds(); math.Abs(got-3500/0.6) > 1e-6 {
		t.Errorf("0-0-60 for 3,500 lb of potash: %v lb", got)
	}
	for _, want := range []string{PotashFirst, PotashAsGrass, BoronBroadcast} { // common practice, no source
		if !slices.Contains(p.Zones[0].Notes, want) {
			t.Errorf("note %q is missing from %q", want, p.Zones[0].Notes)
		}
	}
	if got := p.Saved.Pounds(); math.Abs(got-2000) > 1e-6 {
		t.Errorf("nitrogen saved on 10 ac: %v lb (Bouton: 200 lb/ac a year)", got)
	}
}

// Without a test: no rate, but what to test and what to expect.
func TestZoneWithoutATest(t *testing.T) {
	p := Make([]Zone{{ID: "a/1", FieldID: "a", Area: unit.Acres(1), Class: suitability.Suited}}, Options{Table: table(t, "south-carolina"), Products: []Product{grade(t, "0-0-60")}})
	z := p.Zones[0]
	if z.Why != WhyNoTest || len(z.Rates) != 0 || len(p.Order) != 0 || !slices.Contains(z.ToTest, nutrient.Potassium) || !slices.Contains(z.Notes, TestFirst) {
		t.Errorf("%+v", z)
	}
	if len(z.Expect) == 0 || z.Expect[0].Nutrient != nutrient.Potassium || z.Expect[0].Most.PoundsPerAcre() < 299 {
		t.Errorf("expectation: %+v", z.Expect)
	}
	for class, want := range map[suitability.Class]string{suitability.NotRated: WhyNotRated, suitability.Unsuited: WhyUnsuited, suitability.Marginal: WhyNoTest} {
		if got := Make([]Zone{{Class: class}}, Options{}).Zones[0].Why; got != want {
			t.Errorf("%v: %q, want %q", class, got, want)
		}
	}
	if got := Make([]Zone{{Class: suitability.Suited, Tests: []Test{soil("low", "low", 1)}}}, Options{}).Zones[0].Why; got != WhyNoTable {
		t.Errorf("no table: %q", got)
	}
}

// Georgia's rates were not readable: the laboratory's own advice gives the rate, and without it the need stays open.
func TestLaboratoryGoesFirst(t *testing.T) {
	k := lab.Nutrient{Element: lab.Potassium, Extractant: lab.Mehlich1, ByMass: lab.Reading[unit.Content]{Value: unit.Some(unit.Content(40))}}
	z := Zone{ID: "a/1", Area: unit.Acres(2), Class: suitability.Suited, Tests: []Test{{Soil: nutrient.Soil{Sample: &lab.Sample{Nutrients: []lab.Nutrient{k}}}}}}
	o := Options{Table: table(t, "georgia-piedmont"), Seed: 60 * unit.Pound}
	p := Make([]Zone{z}, o)
	if r := p.Zones[0].Rates[0]; r.Rate.Has() || r.Refusal.Code != nutrient.RateNotPrinted || !slices.Equal(r.Classes, []string{"low"}) {
		t.Errorf("%+v", r)
	}
	if !slices.Contains(p.Zones[0].ToTest, nutrient.Phosphorus) {
		t.Errorf("phosphorus was not measured, and is not on the list %v", p.Zones[0].ToTest)
	}
	if math.Abs(p.SeedDose.Mo.Ounces()-0.25) > 1e-9 {
		t.Errorf("molybdenum on 60 lb of seed: %+v", p.SeedDose)
	}
	z.Tests[0].Advised = []Advised{{nutrient.Potassium, unit.PoundsPerAcre(240), "the laboratory's report"}}
	o.SeedTreated = true
	p = Make([]Zone{z}, o)
	if r := p.Zones[0].Rates[0]; math.Abs(r.Mass.Or(0).Pounds()-480) > 1e-9 || !slices.Contains(r.Notes, LaboratoryFirst) || p.SeedDose != nil {
		t.Errorf("%+v, seed %+v", r, p.SeedDose)
	}
	if p.Order[0].Name != "K2O" || p.Order[0].Product {
		t.Errorf("without a product the order counts the nutrient: %+v", p.Order)
	}
}

// 5 tons of hay by every source, which disagree and are all kept.
func TestRemovalByYield(t *testing.T) {
	p := Make([]Zone{{Area: unit.Acres(1), Class: suitability.Suited}}, Options{Yield: unit.Some(unit.ShortTonsPerAcre(5))})
	var got []string
	for _, r := range p.Removed {
		got = append(got, fmt.Sprintf("%s %.0f-%.0f", r.Removal.Nutrient.Sold(), r.Least.Pounds(), r.Most.Pounds()))
	}
	// rem-03 and its like: 13, 15, 15-20, 15 and 50, 60, 50-60, 60 lb a ton, S 5-6 and 5 (read; sources beside the table)
	if want := "K2O 250-250, K2O 300-300, K2O 250-300, K2O 300-300, P2O5 65-65, P2O5 75-75, P2O5 75-100, P2O5 75-75, S 25-30, S 25-25"; strings.Join(got, ", ") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, ", "), want)
	}
}

// What a product brings along is taken off the need of the other.
func TestProductOfTwo(t *testing.T) {
	o := Options{Table: table(t, "south-carolina"), Products: []Product{grade(t, "11-52-0"), grade(t, "0-20-30"), grade(t, "0-0-60")}}
	z := Zone{Area: unit.Acre, Class: suitability.Suited, Tests: []Test{soil("medium", "low", 9)}}
	p := Make([]Zone{z}, o)
	a := p.Zones[0].Products
	if len(a) != 2 || math.Abs(a[0].Mass.Pounds()-100/0.52) > 1e-6 || math.Abs(a[1].Mass.Pounds()-1000) > 1e-6 {
		t.Fatalf("%+v", a)
	}
	for _, want := range []string{MoreThanAsked, BringsNitrogen} {
		if !slices.Contains(p.Zones[0].Notes, want) {
			t.Errorf("%q is missing from %q", want, p.Zones[0].Notes)
		}
	}
}

// Potash with boron in it may bring more boron than the 3 lb/ac that the University of Georgia and Clemson give in a year (read); then it is left
// out, whatever potash is wanted, and told. So is one that does it together with others.
func TestTooMuchBoronInAProduct(t *testing.T) {
	potash := func(name string, boron unit.Percent) Product {
		return Product{Name: name, For: nutrient.Potassium, Holds: []Holding{{nutrient.Potassium, 50}, {nutrient.Boron, boron}}}
	}
	phosphate := Product{Name: "phosphate", For: nutrient.Phosphorus, Holds: []Holding{{nutrient.Phosphorus, 50}, {nutrient.Boron, 1}}}
	// 200 lb of potash as 400 lb of product: 4 lb of boron at 1 %, 2 lb at half of it; 200 lb of the phosphate bring 2 lb.
	for name, c := range map[string]struct {
		products []Product
		want     []string
	}{
		"too much":          {[]Product{potash("k", 1)}, nil},
		"as much as is let": {[]Product{potash("k", 0.75)}, []string{"k"}},
		"together":          {[]Product{phosphate, potash("k", 0.5)}, []string{"phosphate"}},
		"another serves":    {[]Product{potash("k", 1), grade(t, "0-0-60")}, []string{"0-0-60"}},
	} {
		z := Zone{Area: unit.Acre, Class: suitability.Suited, Tests: []Test{soil("medium", "medium", 9)}}
		p := Make([]Zone{z}, Options{Table: table(t, "south-carolina"), Products: c.products}).Zones[0]
		var got []string
		boron := 0.0
		for _, a := range p.Products {
			got = append(got, a.Product)
			for _, product := range c.products {
				if product.Name == a.Product {
					boron += a.Rate.PoundsPerAcre() * float64(product.Share(nutrient.Boron)) / 100
				}
			}
		}
		if !slices.Equal(got, c.want) || boron > 3.0001 || slices.Contains(p.Notes, Harmful) != (len(got) < len(c.products)) {
			t.Errorf("%s: %v with %.2f lb of boron, notes %v; want %v", name, got, boron, p.Notes, c.want)
		}
	}
}

// Levels to hold stand beside the rates.
func TestLevelsBesideRates(t *testing.T) {
	k := lab.Nutrient{Element: lab.Potassium, Extractant: lab.Mehlich1, ByMass: lab.Reading[unit.Content]{Value: unit.Some(unit.Content(100))}}
	z := Zone{Area: unit.Acre, Class: suitability.Suited, Tests: []Test{{Soil: nutrient.Soil{Sample: &lab.Sample{Nutrients: []lab.Nutrient{k}}}}}}
	o := Options{Table: table(t, "georgia-piedmont"), Levels: []*nutrient.Table{table(t, "georgia-before-seeding"), table(t, "kentucky")}}
	got := Make([]Zone{z}, o).Zones[0].Levels
	// kcrit-wood and ky-levels (read): 250 to 300 and 270 to 300 lb/ac; 200 is under both
	if len(got) != 2 || got[0].Against != nutrient.BelowHold || got[1].Against != nutrient.BelowHold {
		t.Errorf("%+v", got)
	}
}

// A richer zone never asks for more of any nutrient, nor of a product that holds one nutrient alone.
func TestRicherNeverAsksForMore(t *testing.T) {
	classes := []string{"low", "medium", "sufficient", "high", "excessive"}
	o := Options{Table: table(t, "south-carolina"), Products: []Product{grade(t, "0-46-0"), grade(t, "0-0-60"), borate}}
	rapid.Check(t, func(t *rapid.T) {
		o.Stage = rapid.SampledFrom(nutrient.Stages()).Draw(t, "stage")
		var poor, rich Zone
		for range rapid.IntRange(1, 4).Draw(t, "tests") {
			p, k, b := rapid.IntRange(0, 4).Draw(t, "p"), rapid.IntRange(0, 4).Draw(t, "k"), rapid.Float64Range(0, 5).Draw(t, "b")
			poor.Tests = append(poor.Tests, soil(classes[p], classes[k], b))
			rich.Tests = append(rich.Tests, soil(classes[rapid.IntRange(p, 4).Draw(t, "richer p")], classes[rapid.IntRange(k, 4).Draw(t, "richer k")], b+rapid.Float64Range(0, 3).Draw(t, "more b")))
		}
		poor.Class, rich.Class, poor.Area, rich.Area = suitability.Suited, suitability.Suited, 1, 1
		a, b := Make([]Zone{poor}, o).Farm, Make([]Zone{rich}, o).Farm
		for i := range a.Nutrients {
			if b.Nutrients[i].Mass > a.Nutrients[i].Mass*(1+1e-12) {
				t.Fatalf("%+v, richer %+v", a.Nutrients[i], b.Nutrients[i])
			}
		}
		for i := range a.Products {
			if b.Products[i].Mass > a.Products[i].Mass*(1+1e-12) {
				t.Fatalf("%+v, richer %+v", a.Products[i], b.Products[i])
			}
		}
	})
}

// Amounts add up: zones to fields, fields to the farm, the farm to the order.
func TestAmountsAddUp(t *testing.T) {
	classes := []string{"low", "medium", "sufficient", "high", "excessive"}
	products := []Product{grade(t, "0-46-0"), grade(t, "0-10-30"), grade(t, "0-0-60"), borate}
	sc := table(t, "south-carolina")
	rapid.Check(t, func(t *rapid.T) {
		var zones []Zone
		for i := range rapid.IntRange(0, 12).Draw(t, "zones") {
			z := Zone{ID: fmt.Sprint(i), FieldID: rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "field"), Area: unit.Area(rapid.Float64Range(1, 1e6).Draw(t, "area")),
				Class: rapid.SampledFrom(suitability.Classes()).Draw(t, "class")}
			for range rapid.IntRange(0, 3).Draw(t, "tests") {
				z.Tests = append(z.Tests, soil(rapid.SampledFrom(classes).Draw(t, "p"), rapid.SampledFrom(classes).Draw(t, "k"), rapid.Float64Range(0, 6).Draw(t, "b")))
			}
			zones = append(zones, z)
		}
		o := Options{Table: sc, Stage: rapid.SampledFrom(nutrient.Stages()).Draw(t, "stage"), Products: products[:rapid.IntRange(0, 4).Draw(t, "products")]}
		checkSums(t, Make(zones, o))
	})
}

// checkSums says that nothing is lost or made on the way from zones to fields, farm and order.
func checkSums(t *rapid.T, p *Plan) {
	near := func(what string, got, want unit.Mass) {
		if !(math.Abs(float64(got-want)) <= 1e-9*max(1, math.Abs(float64(want)))) { // some dozen sums of float64
			t.Fatalf("%s: %v, want %v", what, got, want)
		}
	}
	for _, n := range nutrient.Nutrients() {
		zones, fields := unit.Mass(0), unit.Mass(0)
		for _, z := range p.Zones {
			for _, r := range z.Rates {
				if r.Nutrient == n {
					zones += r.Rate.Or(0).Over(z.Area)
					parts := unit.AreaRate(0)
					for _, a := range r.When {
						parts += a.Rate
					}
					near("applications", parts.Over(z.Area), r.Mass.Or(0))
				}
			}
		}
		for _, f := range p.Fields {
			fields += f.Total.Of(n)
		}
		near("fields of "+n.String(), fields, zones)
		near("farm of "+n.String(), p.Farm.Of(n), zones)
	}
	order := unit.Mass(0)
	for _, l := range p.Order {
		order += l.Mass
	}
	bought := unit.Mass(0)
	for _, z := range p.Zones {
		for _, a := range z.Products {
			bought += a.Mass
		}
		for _, u := range z.unmet {
			bought += u.Mass
		}
	}
	near("order", order, bought)
}

// A sum that fills the bag but for a rounding error (0.1 × 3 in 0.3) asks for no other one.
func TestPackages(t *testing.T) {
	for _, c := range []struct {
		m, each unit.Mass
		want    int
	}{{100, 25, 4}, {100.1, 25, 5}, {0.1 * 3, 0.3, 1}, {5, 0, 0}, {0, 5, 0}, {unit.Mass(math.NaN()), 5, 0}} {
		if got := Packages(c.m, c.each); got != c.want {
			t.Errorf("Packages(%v, %v) = %d, want %d", c.m, c.each, got, c.want)
		}
	}
}

// By hand: Georgia's rates could not be read, so 5 tons of hay are budgeted with what they take off at most, 20 lb P2O5 and 60 lb K2O a
// ton (Penn State; Purdue; read): never as a rate. Where a table can say, it says.
func TestExpectationByRemoval(t *testing.T) {
	zones := []Zone{{ID: "a", FieldID: "f", Area: 4000, Class: suitability.Suited}}
	expected := func(name string, o Options) map[nutrient.Nutrient]nutrient.Expectation {
		o.Table = table(t, name)
		z := Make(zones, o).Zones[0]
		if len(z.Rates) > 0 {
			t.Errorf("%s: a rate without a test", name)
		}
		out := map[nutrient.Nutrient]nutrient.Expectation{}
		for _, e := range z.Expect {
			out[e.Nutrient] = e
		}
		return out
	}
	yield := Options{Yield: unit.Some(unit.ShortTonsPerAcre(5))}
	got := expected("georgia-coastal-plain", yield)
	for n, want := range map[nutrient.Nutrient]float64{nutrient.Phosphorus: 100, nutrient.Potassium: 300, nutrient.Sulfur: 30} {
		if e := got[n]; e.Source != Removal || e.Least != 0 || math.Abs(e.Most.PoundsPerAcre()-want) > 1e-9 {
			t.Errorf("%v: %+v, want up to %g lb", n, e, want)
		}
	}
	if e, ok := expected("georgia-coastal-plain", Options{})[nutrient.Potassium]; ok {
		t.Errorf("without a yield %+v", e)
	}
	if e := expected("south-carolina", yield)[nutrient.Potassium]; e.Source == Removal {
		t.Errorf("South Carolina has rates, and the plan takes %+v", e)
	}
}

// A stand that is up is maintained beside ground that is yet to be sown: South Carolina adds 100 lb of potash in two halves to a standing
// crop alone (Clemson, read).
func TestAStandIsMaintained(t *testing.T) {
	test := []Test{soil("medium", "medium", 5)}
	p := Make([]Zone{{ID: "new", FieldID: "f", Area: 4000, Class: suitability.Suited, Tests: test}, {ID: "up", FieldID: "f", Area: 4000, Class: suitability.Suited, Tests: test, Stage: nutrient.Maintain}},
		Options{Table: table(t, "south-carolina")})
	potash := func(z ZonePlan) Rate {
		i := slices.IndexFunc(z.Rates, func(r Rate) bool { return r.Nutrient == nutrient.Potassium })
		return z.Rates[i]
	}
	a, b := potash(p.Zones[0]), potash(p.Zones[1])
	if math.Abs(a.Rate.Or(0).PoundsPerAcre()-200) > 1e-9 || math.Abs(b.Rate.Or(0).PoundsPerAcre()-300) > 1e-9 {
		t.Errorf("to be sown %v, standing %v", a.Rate, b.Rate)
	}
}
