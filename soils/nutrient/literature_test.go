package nutrient

import (
	"math"
	"testing"

	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

const (
	uga     = "University of Georgia Agricultural and Environmental Services Laboratories, crop codes 025 and 026"
	clemson = "Clemson University Agricultural Service Laboratory, crop code 050"
	tenn    = "University of Tennessee, alfalfa soil-test comments"
)

func table(t *testing.T, name string) *Table {
	t.Helper()
	tab, ok := TableByName(name)
	if !ok {
		t.Fatalf("no table %q", name)
	}
	return tab
}

// sampled is a sample with one figure in lb/ac of the plow slice.
func sampled(n Nutrient, x lab.Extractant, lb float64) Soil {
	c := unit.ContentFromPoundsPerAcre(lb, 2e6)
	return Soil{Sample: &lab.Sample{Nutrients: []lab.Nutrient{{Element: n.Element(), Extractant: x, ByMass: lab.Reading[unit.Content]{Value: unit.Some(c)}}}}}
}

func near(t *testing.T, name string, got, want, tol float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.10g, want %g ± %g (%s)", name, got, want, tol, source)
	}
}

// The ends of classes were read; that they are for Mehlich-1 is from memory, not checked.
func TestGeorgiaClasses(t *testing.T) {
	for _, c := range []struct {
		id, table string
		n         Nutrient
		lb        float64
		want      string
	}{
		{"ga-C-P-30 (computed)", "georgia-coastal-plain", Phosphorus, 30, "low"},
		{"ga-C-P-45 (computed)", "georgia-coastal-plain", Phosphorus, 45, "medium"},
		{"ga-P-P-45 (computed)", "georgia-piedmont", Phosphorus, 45, "high"},
		{"ga-C-P-101 (computed)", "georgia-coastal-plain", Phosphorus, 101, "very high"},
		{"ga-C-K-150 (computed)", "georgia-coastal-plain", Potassium, 150, "medium"},
		{"ga-P-K-150 (computed)", "georgia-piedmont", Potassium, 150, "medium"},
		{"ga-P-K-401 (computed)", "georgia-piedmont", Potassium, 401, "very high"},
		{"ga-P-K-120 (computed)", "georgia-piedmont", Potassium, 120, "low"},
		{"0-30, 31-60: 30.4 is printed 30", "georgia-coastal-plain", Phosphorus, 30.4, "low"},
		{"0-30, 31-60: 30.5 is printed 31", "georgia-coastal-plain", Phosphorus, 30.5, "medium"},
		{"magnesium 60", "georgia-coastal-plain", Magnesium, 60, "low"},
		{"magnesium 121", "georgia-piedmont", Magnesium, 121, "medium"},
		{"magnesium 241", "georgia-piedmont", Magnesium, 241, "high"},
	} {
		got, err := table(t, c.table).Classify(c.n, sampled(c.n, lab.Mehlich1, c.lb))
		if err != nil || got.Name != c.want || len(got.Notes) != 1 || got.Notes[0] != ExtractantFromMemory {
			t.Errorf("%s: %+v, %v; want %s (%s)", c.id, got, err, c.want, uga)
		}
	}
}

// Rates that need no soil test: boron in both stages, molybdenum by seed or by leaf, magnesium where no lime bears it.
func TestGeorgiaFixedRates(t *testing.T) {
	for _, name := range []string{"georgia-coastal-plain", "georgia-piedmont"} {
		tab := table(t, name)
		for _, s := range Stages() {
			b := find(t, tab.Require(sampled(Potassium, lab.Mehlich1, 100), Ask{Stage: s}), Boron)
			near(t, "ga-B (read), lb/ac, "+string(s), b.Rate.Or(-1).PoundsPerAcre(), 3, 1e-12, uga)
			if b.Notes[0] != NotInSeedRow || (b.Every == 1) != (s == Maintain) {
				t.Errorf("boron %s: %+v", s, b)
			}
		}
		seed, _ := tab.Seed.Get()
		mo, molybdate := seed.Most(60 * unit.Pound)
		near(t, "ga-Mo-seed: oz molybdenum (read)", mo.Ounces(), 0.25, 1e-9, uga)
		near(t, "ga-Mo-seed: oz sodium molybdate (read)", molybdate.Ounces(), 0.6666666666666666, 1e-6, uga)
		mo, molybdate = seed.Most(22 * unit.Pound)
		near(t, "ga-Mo-seed-22: oz molybdenum (computed)", mo.Ounces(), 0.09167, 1e-4, uga)
		near(t, "ga-Mo-seed-22: oz sodium molybdate (computed)", molybdate.Ounces(), 0.24444, 1e-4, uga)
		spray, _ := tab.Spray.Get()
		near(t, "ga-Mo-foliar: oz/ac (read)", spray.Mo.PoundsPerAcre()*16, 3, 1e-9, uga)
		near(t, "ga-Mo-foliar: oz/ac sodium molybdate (read)", spray.Molybdate.PoundsPerAcre()*16, 8, 1e-9, uga)
		near(t, "ga-Mo-foliar: gal/ac (read)", float64(spray.Water/unit.GallonPerAcre), 25, 1e-9, uga)
		near(t, "ga-Mo-foliar: years (read)", float64(spray.EveryYears), 2, 0, uga)
		mg := find(t, tab.Require(sampled(Magnesium, lab.Mehlich1, 10), Ask{}), Magnesium)
		near(t, "low magnesium without lime, lb/ac", mg.Rate.Or(-1).PoundsPerAcre(), 25, 1e-12, uga)
		mg = find(t, tab.Require(sampled(Magnesium, lab.Mehlich1, 10), Ask{Lime: true}), Magnesium)
		if mg.Rate.Or(-1) != 0 || mg.Why != LimeBears {
			t.Errorf("low magnesium with lime: %+v", mg)
		}
	}
	for name, want := range map[string]int{"georgia-piedmont": 2, "georgia-coastal-plain": 3} { // ga-K-split (read)
		if got := table(t, name).parts(Potassium, Maintain); len(got) != want {
			t.Errorf("ga-K-split: %s has %d parts, want %d (%s)", name, len(got), want, uga)
		}
	}
}

// The rates of Georgia's matrix were not readable: the class stands, the rate is refused and nobody else's is lent.
func TestGeorgiaHasNoMatrix(t *testing.T) {
	k := find(t, table(t, "georgia-piedmont").Require(sampled(Potassium, lab.Mehlich1, 100), Ask{}), Potassium)
	if k.Class != "low" || k.Rate.Has() || k.Refusal == nil || k.Refusal.Code != RateNotPrinted {
		t.Errorf("%+v", k)
	}
}

func find(t *testing.T, needs []Need, n Nutrient) Need {
	t.Helper()
	for _, x := range needs {
		if x.Nutrient == n {
			return x
		}
	}
	t.Fatalf("no need of %v", n)
	return Need{}
}

// classes is a soil of which the laboratory printed the classes only.
func classes(p, k string) Soil {
	return Soil{Printed: []Printed{{Phosphorus, p}, {Potassium, k}}}
}

// One cell of the printed matrix does not fit its neighbours. It is followed as printed, and says so.
func TestSouthCarolinaMatrix(t *testing.T) {
	sc := table(t, "south-carolina")
	for _, c := range []struct {
		id, p, k  string
		p2o5, k2o float64
		odd       bool
	}{
		{"sc-low-low (read)", "low", "low", 200, 300, false},
		{"sc-medium-medium (read)", "medium", "medium", 100, 200, false},
		{"sc-sufficient-sufficient (read)", "sufficient", "sufficient", 50, 100, false},
		{"sc-high-high (read)", "high", "high", 0, 50, false},
		{"sc-excessive-excessive (read)", "excessive", "excessive", 0, 0, false},
		{"sc-low-excessive: prints 100, not 200 (read)", "low", "excessive", 100, 0, true},
		{"sc-high-low (read)", "high", "low", 0, 300, false},
	} {
		needs := sc.Require(classes(c.p, c.k), Ask{})
		p, k := find(t, needs, Phosphorus), find(t, needs, Potassium)
		near(t, c.id+" P2O5", p.Rate.Or(-1).PoundsPerAcre(), c.p2o5, 1e-9, clemson)
		near(t, c.id+" K2O", k.Rate.Or(-1).PoundsPerAcre(), c.k2o, 1e-9, clemson)
		if has(p.Notes, OddCell) != c.odd {
			t.Errorf("%s: notes %v", c.id, p.Notes)
		}
	}
	for lb, want := range map[float64]float64{3.0: 3, 3.1: 0, 4: 0} { // sc-B (read): below 3.1
		b := find(t, sc.Require(sampled(Boron, lab.HotWater, lb), Ask{}), Boron)
		near(t, "sc-B, lb/ac", b.Rate.Or(-1).PoundsPerAcre(), want, 1e-9, clemson)
	}
	// sc-K-extra (read): 100 lb in two halves, on top, on a standing crop
	k := find(t, sc.Require(classes("low", "medium"), Ask{Stage: Maintain}), Potassium)
	near(t, "sc-K-extra, lb/ac", k.Rate.Or(-1).PoundsPerAcre(), 300, 1e-9, clemson)
	first, third := 0.0, 0.0
	for _, p := range k.Parts {
		if p.When == "after the third cutting" {
			third += float64(p.Share) * 300
		} else {
			first += float64(p.Share) * 300
		}
	}
	near(t, "sc-K-extra after the third cutting", third, 50, 1e-9, clemson)
	near(t, "sc-K-extra with the matrix after the first", first, 250, 1e-9, clemson)
}

// Some sources print levels to hold instead of rates; of Oklahoma's only the lower end is printed.
func TestTennesseeAndLevels(t *testing.T) {
	b := find(t, table(t, "tennessee").Require(Soil{}, Ask{}), Boron)
	near(t, "tn-B (read), lb/ac", b.Rate.Or(-1).PoundsPerAcre(), 2, 1e-12, tenn)
	near(t, "tn-N-mix under 25 % (read), lb/ac", NitrogenForThinStand(24.9).PoundsPerAcre(), 30, 1e-12, tenn)
	near(t, "tn-N-mix from 25 % (read), lb/ac", float64(NitrogenForThinStand(25)), 0, 0, tenn)
	near(t, "not a share", float64(NitrogenForThinStand(unit.Percent(math.NaN()))), 0, 0, "definition")
	if NitrogenWindow != "03-01/03-30" {
		t.Errorf("tn-N-mix: window %s (%s)", NitrogenWindow, tenn)
	}
	for _, c := range []struct {
		id, table   string
		n           Nutrient
		least, most float64
	}{
		{"ky-levels P (read)", "kentucky", Phosphorus, 50, 60},
		{"ky-levels K (read)", "kentucky", Potassium, 270, 300},
		{"Oklahoma P, at least (read)", "oklahoma", Phosphorus, 65, 0},
		{"Oklahoma K, at least (read)", "oklahoma", Potassium, 350, 0},
		{"kcrit-wood P (read)", "georgia-before-seeding", Phosphorus, 100, 100},
		{"kcrit-wood K (read)", "georgia-before-seeding", Potassium, 250, 300},
	} {
		var h Hold
		for _, x := range table(t, c.table).Holds {
			if x.Nutrient == c.n {
				h = x
			}
		}
		near(t, c.id+" least", h.Least.PoundsPerAcre(), c.least, 1e-9, table(t, c.table).Source)
		near(t, c.id+" most", h.Most.PoundsPerAcre(), c.most, 1e-9, table(t, c.table).Source)
		if c.most == 0 {
			c.most = 1e6 // no upper end: whatever is above is within
			if h.Of(unit.PoundsPerAcre(c.most)) != AtHold {
				t.Errorf("%s: an upper end that no source names", c.id)
			}
			continue
		}
		if h.Of(unit.PoundsPerAcre(c.least-1)) != BelowHold || h.Of(unit.PoundsPerAcre(c.least)) != AtHold || h.Of(unit.PoundsPerAcre(c.most+1)) != AboveHold {
			t.Errorf("%s: compares wrongly", c.id)
		}
	}
	near(t, "nitrogen saved, lb/ac a year (read)", float64(NitrogenSaved/unit.PoundPerAcre), 200, 1e-12, "Bouton, Alfalfa for bermudagrass management in the South")
}

// A figure is held against the levels; two figures of one nutrient are not.
func TestLevels(t *testing.T) {
	ky := table(t, "kentucky")
	one := sampled(Potassium, lab.Mehlich3, 240)
	if l := ky.Levels(one); len(l) != 1 || l[0].Against != BelowHold || math.Abs(l[0].Value.PoundsPerAcre()-240) > 1e-9 || l[0].Source != ky.Source {
		t.Errorf("%+v", l)
	}
	two := sampled(Potassium, lab.Mehlich1, 290)
	two.Sample.Nutrients = append(two.Sample.Nutrients, one.Sample.Nutrients...)
	if l := ky.Levels(two); len(l) != 0 || len(ky.Levels(Soil{})) != 0 {
		t.Errorf("two figures: %+v", l)
	}
}

// Sources disagree on what hay removes; all are kept. Yields are short tons an acre.
func TestRemoval(t *testing.T) {
	for _, c := range []struct {
		id          string
		n           Nutrient
		i           int
		yield       float64
		least, most float64
		tol         float64
	}{
		{"rem-01 (read)", Phosphorus, 1, 6, 90, 90, 1e-9},
		{"rem-01 (read)", Potassium, 1, 6, 360, 360, 1e-9},
		{"rem-02 (read)", Phosphorus, 0, 1, 13, 13, 1e-9},
		{"rem-02 (read)", Potassium, 0, 1, 50, 50, 1e-9},
		{"rem-03 (computed)", Phosphorus, 0, 5, 65, 65, 1e-9},
		{"rem-03 (computed)", Potassium, 0, 5, 250, 250, 1e-9},
		{"rem-04 (read)", Phosphorus, 2, 1, 15, 20, 1e-9},
		{"rem-04 (read)", Potassium, 2, 1, 50, 60, 1e-9},
		{"s-01 (read)", Sulfur, 0, 1, 5, 6, 1e-9},
		{"s-02 (read)", Sulfur, 1, 4, 20, 20, 1},
	} {
		r := Removals(c.n)[c.i]
		least, most := r.At(unit.ShortTonsPerAcre(c.yield))
		near(t, c.id+" least", least.PoundsPerAcre(), c.least, c.tol, r.Source)
		near(t, c.id+" most", most.PoundsPerAcre(), c.most, c.tol, r.Source)
	}
	if len(Removals(Boron)) != 0 {
		t.Error("a removal of boron that no source gives")
	}
}

func TestTissue(t *testing.T) {
	const wisconsin = "Laboski and Clark 2011"
	near(t, "tis-01: sulfur low below, % (read)", float64(TissueRanges("s")[0].Low), 0.25, 0, wisconsin)
	near(t, "tis-01: potassium low below, % (read)", float64(TissueRanges("k")[1].Low), 2.25, 0, wisconsin)
	if TissueRanges("k")[1].Part != "top 6 in" || TissueRanges("k")[1].Stage != "bud to first flower" {
		t.Errorf("tis-01: %+v", TissueRanges("k")[1])
	}
	// 2.1 % potassium is low to one source and sufficient to the other: both are told.
	for i, want := range []Level{SufficientTissue, LowTissue} {
		if l, ok := TissueRanges("k")[i].Of(2.1); !ok || l != want {
			t.Errorf("potassium 2.1 %%, source %d: %q, want %q", i, l, want)
		}
	}
	k := TissueRanges("k")[0]
	near(t, "low potassium: least potash, lb/ac (read)", k.AddLow.Or(0).PoundsPerAcre(), 100, 1e-9, k.Source)
	near(t, "low potassium: most potash, lb/ac (read)", k.AddHigh.Or(0).PoundsPerAcre(), 200, 1e-9, k.Source)
	for v, want := range map[unit.Percent]Level{1.99: LowTissue, 2.00: SufficientTissue, 3.5: SufficientTissue, 3.51: HighTissue} {
		if l, _ := k.Of(v); l != want {
			t.Errorf("potassium %v %%: %q, want %q (%s)", v, l, want, k.Source)
		}
	}
	if _, ok := k.Of(unit.Percent(math.NaN())); ok {
		t.Error("no number has a level")
	}
}

func has(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
