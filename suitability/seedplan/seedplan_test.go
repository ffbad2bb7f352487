package seedplan

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

const (
	undersander = "Undersander, Check alfalfa seed before buying, Hay & Forage Grower"
	inTheBag    = "Progressive Forage, What's in your alfalfa seed bag"
	texas       = "Texas DOT, Pure live seed"
	liveSeed    = "Undersander, Live seed in the bag, Hay & Forage Grower"
	size        = "No-Till Farmer, Alfalfa seed size, shape affect seeder calibration"
	rankin      = "Rankin, UW Extension, Alfalfa seeding rates: how much is too much? (2008)"
	wood        = "Wood, Bouton and Hancock, Eight steps for interseeding alfalfa into bermudagrass"
	tucker      = "Tucker and Mullenix, Complement bermudagrass with alfalfa"
	practice    = "common practice, no source"
)

// near names the source of the figure in its message.
func near(t *testing.T, name string, got, want, tol float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.10g, want %g ± %g (%s)", name, got, want, tol, source)
	}
}

// Pure live seed as extension leaflets reckon it; the tolerance is for their rounding.
func TestPureLiveSeed(t *testing.T) {
	pls := func(purity, germ unit.Percent) float64 {
		return 100 * float64(Tag{Purity: purity, Germination: germ}.PLS())
	}
	near(t, "pls-1: 99 × 90, prints 89 (read)", pls(99, 90), 89, 0.2, undersander)
	near(t, "pls-2: 70 × 80 (read)", pls(70, 80), 56, 1e-6, undersander)
	near(t, "pls-3: 70 × 90 (read)", pls(70, 90), 63, 1e-6, undersander)
	near(t, "pls-4: 90 × 90 (read)", pls(90, 90), 81, 1e-6, inTheBag)
	near(t, "pls-5: 66 × 90 (computed)", pls(66, 90), 59.4, 1e-6, inTheBag)
	near(t, "pls-6: 22 lb of it from the bag (computed)", Tag{Purity: 66, Germination: 90}.Bulk(unit.PoundsPerAcre(22)).PoundsPerAcre(), 37.037, 0.001, inTheBag)
	near(t, "pls-7: 85 × 75, prints 0.64 (read)", pls(85, 75)/100, 0.64, 0.012, texas)
	near(t, "pls-7: bulk for one, prints 1.56 (read)", float64(Tag{Purity: 85, Germination: 75}.Bulk(1)), 1.56, 0.012, texas)
	near(t, "pls-8: a 50 lb bag at $200, prints 7.15 (read)", Tag{Purity: 70, Germination: 80}.PerPLS(200, unit.Pound), 7.15, 0.02, liveSeed)
	near(t, "the same tag written for bare seed: 66 × 90 with 34 % coating", 100*float64(Tag{Purity: 100, Germination: 90, Coating: 34, BareSeed: true}.PLS()), 59.4, 1e-9, "definition")
	near(t, "hard seed counted on request", 100*float64(Tag{Purity: 100, Germination: 80, HardSeed: 10, CountHard: true}.PLS()), 90, 1e-9, "definition")
}

// Tags that contradict themselves; purity and coating that cannot both be of the bag are asked about, not refused.
func TestTagIsChecked(t *testing.T) {
	var q *PurityQuestion
	if err := (Tag{Purity: 99, Germination: 90, Coating: 34}).Check(); !errors.As(err, &q) {
		t.Errorf("99 %% purity under 34 %% coating: %v", err)
	}
	for name, tag := range map[string]Tag{
		"zero": {}, "no number": {Purity: unit.Percent(math.NaN()), Germination: 90}, "over all seed": {Purity: 99, Germination: 95, HardSeed: 10},
		"coating": {Purity: 99, Germination: 90, Coating: 100, BareSeed: true}, "seeds": {Purity: 99, Germination: 90, Seeds: 5}, "bag": {Purity: 99, Germination: 90, Bag: -1},
		"shares in the place of percent": {Purity: 0.99, Germination: 0.9}, "germination as a share": {Purity: 99, Germination: 0.9},
	} {
		if tag.Check() == nil {
			t.Errorf("%s passes: %+v", name, tag)
		}
	}
	if err := (Tag{Purity: 66, Germination: 82, HardSeed: 8, Coating: 34, Bag: UsualBag, Seeds: UsualSeeds}).Check(); err != nil {
		t.Error(err)
	}
}

// From pounds to seeds, rows, plants and days of counting.
func TestSeedsOnTheGround(t *testing.T) {
	tag := Tag{Purity: 100, Germination: 100}
	near(t, "seed-1: seeds in a pound (read)", float64(UsualSeeds)*float64(unit.Pound), 220000, 1e-6, size)
	near(t, "seed-1: least (read)", float64(LeastSeeds)*float64(unit.Pound), 196000, 1e-6, size)
	near(t, "seed-1: most (read)", float64(MostSeeds)*float64(unit.Pound), 224000, 1e-6, size)
	near(t, "seed-2: 1 lb/ac, seeds/ft² (computed)", tag.SeedsAt(unit.PoundPerAcre).PerSquareFoot(), 5.0505, 0.001, size)
	near(t, "seed-3: 22 lb/ac, seeds/ft² (computed)", tag.SeedsAt(22*unit.PoundPerAcre).PerSquareFoot(), 111.111, 0.01, size)
	p := Make([]Zone{{"a/1", "a", unit.Acre}}, Options{Tag: tag, Spacing: unit.Inches(7.5)})
	near(t, "seed-4: seeds/ft of row (computed)", p.PerRow.PerFoot(), 69.444, 0.01, size)
	m := Expected(75*unit.PerSquareFoot, time.Date(2026, 10, 20, 0, 0, 0, 0, time.UTC))
	near(t, "seed-5: emerged of 75 (read)", m[0].Expect.PerSquareFoot(), 45, 1, rankin)
	near(t, "seed-5: next spring (read)", m[1].Expect.PerSquareFoot(), 25, 1, rankin)
	near(t, "seed-5: 15 lb at 5 a pound, seeds/ft² (read)", tag.SeedsAt(15*unit.PoundPerAcre).PerSquareFoot(), 75, 1, rankin)
	near(t, "least of a new stand, plants/ft² (read)", m[1].Least.Or(0).PerSquareFoot(), 15, 1e-9, "Hall, Penn State, in Hay & Forage Grower")
	near(t, "least in the year of sowing, plants/ft² (read)", m[0].Least.Or(0).PerSquareFoot(), 25, 1e-9, "Glazier, in Progressive Forage")
	for i, want := range []string{"2026-12-01", "2027-03-15"} {
		if got := m[i].Day.Format(time.DateOnly); got != want || m[i].Name != Milestones()[i] || !slices.Contains(Actions(), m[i].Below) {
			t.Errorf("milestone %d: %s %+v, want %s", i, got, m[i], want)
		}
	}
	if got := Expected(1, time.Date(2027, 2, 10, 0, 0, 0, 0, time.UTC))[1].Day.Format(time.DateOnly); got != "2028-03-15" {
		t.Errorf("sown in February, next spring is %s", got)
	}
}

// The table of rates against its sources, line by line.
func TestRatesAndDepths(t *testing.T) {
	for _, c := range []struct {
		id                               string
		r                                Rule
		least, most, rows, rowsTo, depth float64
		source                           string
		status                           suitability.Status
	}{
		{"drilled", RulesOf(Drilled)[0], 20, 25, 7, 9, 0.5, practice, suitability.Practice},
		{"broadcast", RulesOf(Broadcast)[0], 22, 25, 0, 0, 0.5, practice, suitability.Practice},
		{"rate-7-9 (read)", RulesOf(IntoSod)[0], 22, 25, 7, 9, 0.5, wood, suitability.Published},
		{"rate-14-15 (read)", RulesOf(IntoSod)[1], 12, 14, 14, 15, 0.5, tucker, suitability.Published},
		{"rate-nc-sod (read)", RulesOf(IntoSod)[2], 15, 20, 0, 0, 0.5, "NC State Extension, Forage planting guide", suitability.Published},
		{"rate-ark: adequate and no gain above (read)", RulesOf(IntoSod)[3], 10, 20, 0, 0, 0, "University of Arkansas in Hay & Forage Grower", suitability.Published},
	} {
		near(t, c.id+" least, lb/ac", c.r.Least.PoundsPerAcre(), c.least, 1e-9, c.source)
		near(t, c.id+" most, lb/ac", c.r.Most.PoundsPerAcre(), c.most, 1e-9, c.source)
		near(t, c.id+" rows, in", c.r.RowFrom.Inches(), c.rows, 1e-9, c.source)
		near(t, c.id+" rows to, in", c.r.RowTo.Inches(), c.rowsTo, 1e-9, c.source)
		near(t, c.id+" depth, in", c.r.Depth.Inches(), c.depth, 1e-9, c.source)
		if c.r.Status != c.status {
			t.Errorf("%s is %q, want %q", c.id, c.r.Status, c.status)
		}
	}
	near(t, "rate-14-15 and rate-nc-sod: least depth, in (read)", RulesOf(IntoSod)[1].DepthFrom.Inches()+RulesOf(IntoSod)[2].DepthFrom.Inches(), 0.5, 1e-9, tucker)
	near(t, "rate-7-9: grass, in (read)", SodLeastInch*10+SodMostInch, 12, 0, wood)
	near(t, "rate-7-9: depth, in (read)", DeepestInch, 0.5, 0, wood)
	for _, m := range Methods() { // the usual rate lies within every method's own
		if r := RulesOf(m)[0]; Usual < r.Least*(1-1e-9) || Usual > r.Most {
			t.Errorf("%s: the usual rate is outside", m)
		}
	}
}

// Three extension publications work the same example other ways.
func TestCalibrationAgainstPublished(t *testing.T) {
	row150 := func(in float64) float64 {
		_, row := Trial{unit.Inches(in), 1, 150 * unit.Foot}.Catch(unit.PoundPerAcre)
		return row.Grams()
	}
	const kentucky = "University of Kentucky figures in No-Till Farmer, 5 easy steps to calibrating your no-till drill: g a row over 150 ft for 1 lb/ac"
	near(t, "6 in rows", row150(6), 0.78, 0.005, kentucky)
	near(t, "7 in rows", row150(7), 0.91, 0.005, kentucky)
	near(t, "7.5 in rows", row150(7.5), 0.98, 0.005, kentucky)
	near(t, "8 in rows", row150(8), 1.04, 0.005, kentucky)
	near(t, "the same from the sheet, 7 in", Catches(unit.PoundPerAcre, unit.Inches(7), Distances())[2].Row.Grams(), 0.91, 0.005, kentucky)
	wheel := ByWheel(unit.Inches(7.5), 1, 20, 8*unit.Foot)
	near(t, "20 turns of 8 ft at 7.5 in, ft²", float64(wheel.Ground()/unit.SquareFoot), 100, 1e-9, "Carter, How to calibrate a grain drill")
	near(t, "24 openers at 7.5 in over 145.2 ft are 1/20 ac", Trial{unit.Inches(7.5), 24, 145.2 * unit.Foot}.Ground().Acres(), 0.05, 1e-9, "Southeast Farm Press, Cover crop mixtures require a properly calibrated grain drill")
	all, _ := wheel.Catch(25 * unit.PoundPerAcre)
	near(t, "25 lb/ac on 100 ft² at 454 g/lb, g", all.Grams(), 100*25/43560.0*454, 0.05, "Carter, How to calibrate a grain drill")
}

// A sheet around the wanted rate, what each of its catches says about the drill, rows that differ, and trials that cannot be.
func TestCalibrationSheet(t *testing.T) {
	tag, trial := Tag{Purity: 66, Germination: 90}, Trial{unit.Inches(7.5), 4, 100 * unit.Foot}
	lines := Sheet(tag, trial, 22*unit.PoundPerAcre)
	want := lines[2]
	if !want.Wanted || math.Abs(want.Bulk.PoundsPerAcre()-37.037) > 0.001 || math.Abs(float64(want.All/want.Row)-4) > 1e-9 {
		t.Errorf("%+v", want)
	}
	for i, l := range lines {
		near(t, "the catch shows the rate", float64(trial.Sown(l.All)/l.Bulk), 1, 1e-12, "definition")
		if do := trial.Judge(l.All, want.Bulk).Do; do != []string{"open", "open", "leave", "close", "close"}[i] {
			t.Errorf("line %d: %s", i, do)
		}
	}
	if got := Uneven([]unit.Mass{10, 10.5, 8, 10}); !slices.Equal(got, []int{2}) {
		t.Errorf("uneven rows %v", got)
	}
	for name, bad := range map[string]Trial{"zero": {}, "no rows": {0.19, 0, 30}, "no way": {0.19, 4, unit.Length(math.NaN())}} {
		if bad.Check() == nil {
			t.Errorf("%s passes", name)
		}
	}
}

// Without a rate or ground to compare with a catch says nothing of the drill, which is not that it sows too little; a catch of nothing
// on real ground does say so.
func TestNoAdviceWithoutARate(t *testing.T) {
	trial, rate := Trial{unit.Inches(7.5), 4, 100 * unit.Foot}, 20*unit.PoundPerAcre
	for name, off := range map[string]Off{
		"no rate":         trial.Judge(unit.Pound, 0),
		"a rate of NaN":   trial.Judge(unit.Pound, unit.AreaRate(math.NaN())),
		"no ground":       Trial{}.Judge(unit.Pound, rate),
		"a catch of NaN":  trial.Judge(unit.Mass(math.NaN()), rate),
		"less than empty": trial.Judge(-unit.Pound, rate),
	} {
		if off.Ratio.Has() || off.Do != "" {
			t.Errorf("%s: ratio %v, advice %q", name, off.Ratio, off.Do)
		}
	}
	if off := trial.Judge(0, rate); off.Ratio != unit.Some(0.0) || off.Do != "open" {
		t.Errorf("nothing caught: ratio %v, advice %q", off.Ratio, off.Do)
	}
}

// One order with everything to watch, then one case a rule.
func TestNotesAndOrder(t *testing.T) {
	sown := time.Date(2026, 10, 20, 0, 0, 0, 0, time.UTC)
	o := Options{Tag: Tag{Purity: 99, Germination: 80, HardSeed: 10, Molybdenum: true}, Rate: 30 * unit.PoundPerAcre, Spacing: unit.Inches(6),
		Inoculant: Inoculant{50 * unit.Pound, sown.AddDate(0, 0, -1)}, Sown: sown}
	if err := o.Check(); err != nil {
		t.Fatal(err)
	}
	p := Make([]Zone{{"a/1", "a", unit.Acres(10)}}, o)
	want := []string{RateHigh, RowsOutside, HardSeedLeftOut, InoculateSeed, InoculantExpired, SeedTreatedMo, SodShort, ShallowOnly, CricketsAfterward}
	if !slices.Equal(p.Notes, want) {
		t.Errorf("notes %q\nwant  %q", p.Notes, want)
	}
	bulk := 300 / 0.792 * 1.05 // lb, with 5 % reserve
	if p.Bags != int(math.Ceil(bulk/50)) || p.Inoculants != p.Bags || math.Abs(p.Order.Pounds()-bulk) > 1e-6 {
		t.Errorf("%d bags, %d inoculants, %v lb; want %v lb", p.Bags, p.Inoculants, p.Order.Pounds(), bulk)
	}
	if coated := Make([]Zone{{"a/1", "a", unit.Acre}}, Options{Tag: Tag{Purity: 66, Germination: 90, Coating: 34}}); math.Abs(float64(coated.Bare/coated.Farm)-0.66) > 1e-12 {
		t.Errorf("without 34 %% coating: %v of %v", coated.Bare, coated.Farm)
	}
	wide := Make(nil, Options{Tag: Tag{Purity: 99, Germination: 90}, Spacing: unit.Inches(15)})
	if !slices.Contains(wide.Notes, WideRows) || slices.Contains(wide.Notes, RateLow) || math.Abs(wide.PLS.PoundsPerAcre()-13) > 1e-9 {
		t.Errorf("wide rows: %+v", wide)
	}
	if b := Make(nil, Options{Tag: o.Tag, Method: Broadcast}); b.Spacing != 0 || b.PerRow != 0 || !slices.Contains(b.Notes, SodShort) {
		t.Errorf("broadcast: %+v", b)
	}
	for name, bad := range map[string]Options{"tag": {}, "method": {Tag: o.Tag, Method: "thrown"}, "rate": {Tag: o.Tag, Rate: 1}, "rows": {Tag: o.Tag, Spacing: 9},
		"reserve": {Tag: o.Tag, Reserve: unit.Some(unit.Percent(-1))}, "inoculant": {Tag: o.Tag, Inoculant: Inoculant{PerPackage: -1}}} {
		if bad.Check() == nil {
			t.Errorf("%s passes", name)
		}
	}
}

// Seed adds up from zones to fields to the farm, and the order is never less.
func TestSeedAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var zones []Zone
		for i := range rapid.IntRange(0, 10).Draw(t, "n") {
			zones = append(zones, Zone{fmt.Sprint(i), rapid.SampledFrom([]string{"a", "b"}).Draw(t, "field"), unit.Area(rapid.Float64Range(1, 1e6).Draw(t, "area"))})
		}
		tag := Tag{Purity: unit.Percent(rapid.Float64Range(50, 100).Draw(t, "purity")), Germination: unit.Percent(rapid.Float64Range(50, 100).Draw(t, "germination"))}
		p := Make(zones, Options{Tag: tag, Reserve: unit.Some(unit.Percent(rapid.Float64Range(0, 20).Draw(t, "reserve")))})
		z, f, pls := unit.Mass(0), unit.Mass(0), unit.Mass(0)
		for _, a := range p.Zones {
			z, pls = z+a.Bulk, pls+a.PLS
		}
		for _, a := range p.Fields {
			f += a.Bulk
		}
		same := func(a, b unit.Mass) bool { return math.Abs(float64(a-b)) <= 1e-9*max(1, float64(b)) }
		if !same(z, p.Farm) || !same(f, p.Farm) || !same(p.Farm*unit.Mass(p.Share), pls) {
			t.Fatalf("zones %v, fields %v, farm %v, live %v", z, f, p.Farm, pls)
		}
		if p.Order < p.Farm || unit.Mass(p.Bags)*UsualBag < p.Order*(1-1e-8) || unit.Mass(p.Bags-1)*UsualBag >= p.Order && p.Bags > 0 {
			t.Fatalf("%d bags for %v of %v", p.Bags, p.Order, p.Farm)
		}
	})
}
