package lime

import (
	"math"
	"testing"

	"rootworthy/soils/unit"
)

const (
	gardenPage  = `"Raising pH with limestone", lb per 100 ft² to pH 6.5 by texture (agroconection.com); read; origin of the table unknown`
	bcSheet     = `British Columbia Ministry of Agriculture, Evaluation of Agricultural Limestone, factsheet 637.200-2 (2015)`
	cornell     = `Cornell University CCA study material, PO 41`
	missRule    = `2 Miss. Code R. 1-3-04-100.01`
	clemson     = `Clemson University, By-products as limestone substitutes`
	gardenNotes = `Penn State Agricultural Analytical Services Laboratory, home garden report notes`
	ohio        = `Ohio State University tables (read in a copy)`
	noble       = `Ball J., Noble Foundation, Top 10 liming questions (2002; read in a copy)`
	nebraska    = `University of Nebraska PASSeL, Liming materials, table 4.4`
)

// The table as printed, lb per 100 ft²: tex-sandy-loam, tex-loam, tex-clay-loam (read).
func TestScreeningTable(t *testing.T) {
	for _, c := range []struct {
		texture Texture
		pH, lb  float64
	}{
		{SandyLoam, 5.0, 8}, {SandyLoam, 5.5, 6}, {SandyLoam, 6.0, 3},
		{Loam, 5.0, 10.5}, {Loam, 5.5, 8}, {Loam, 6.0, 4},
		{ClayLoam, 5.0, 15}, {ClayLoam, 5.5, 10.5}, {ClayLoam, 6.0, 5.5},
	} {
		s := Screen(c.texture, unit.PH(c.pH), 6.5)
		lb := float64(s.Rate.Or(-1)) / float64(poundPer100ft2)
		if math.Abs(lb-c.lb) > 1e-9 || s.Bound != "" || s.Column != c.texture {
			t.Errorf("%v from pH %v: %v lb per 100 ft², bound %q; want %v (%s)", c.texture, c.pH, lb, s.Bound, c.lb, gardenPage)
		}
	}
	// tex-conv: × 435.6 lb/ac: 1.3068 short tons an acre (computed; tolerance as in the check value)
	if got := Screen(SandyLoam, 5.5, 6.5).Rate.Or(0).ShortTonsPerAcre(); math.Abs(got-1.3068) > 0.001 {
		t.Errorf("sandy loam from 5.5 = %v short tons/ac, want 1.3068 (%s)", got, gardenPage)
	}
}

// The sieve test of each scheme; a label prints what falls through, so the sheet's fractions are added up.
func TestFineness(t *testing.T) {
	for _, c := range []struct {
		name, scheme string
		passes       []Pass
		cce          unit.Percent
		fineness     unit.Percent
		index        unit.Percent
		tolerance    float64
		source       string
	}{
		{"fine-01: 78.8/10/2.4 (read)", "ohio", []Pass{{60, 78.8}, {20, 88.8}, {8, 91.2}}, 100, 85.28, 85.28, 0.005, bcSheet},
		{"fine-02: 90/6/4; the sheet prints 94.46 (read)", "ohio", []Pass{{60, 90}, {20, 96}, {8, 100}}, 100, 94.46, 94.46, 0.1, bcSheet},
		{"fine-02: exact is 94.40, which we say (computed)", "ohio", []Pass{{60, 90}, {20, 96}, {8, 100}}, 100, 94.40, 94.40, 1e-9, bcSheet},
		{"fine-03: 50/30/15, CCE 90 (computed)", "ohio", []Pass{{60, 50}, {20, 80}, {8, 95}}, 90, 71, 63.9, 1e-6, bcSheet},
		{"fine-04: passes 100/80/60, CCE 95 (computed)", "new-york", []Pass{{20, 100}, {60, 80}, {100, 60}}, 95, 84, 79.8, 1e-6, cornell},
		{"fine-05: CCE 90, passes 90/50 (read)", "mississippi", []Pass{{10, 90}, {50, 50}}, 90, 70, 63, 1e-6, missRule},
		{"fine-06: CCE 95, passes 98/70 (computed)", "mississippi", []Pass{{10, 98}, {50, 70}}, 95, 84, 79.8, 1e-6, missRule},
	} {
		s, ok := SchemeByName(c.scheme)
		got, err := s.Fineness(c.passes...)
		index := ECCE(c.cce, got)
		if !ok || err != nil || math.Abs(float64(got-c.fineness)) > c.tolerance || math.Abs(float64(index-c.index)) > c.tolerance {
			t.Errorf("%s = %v, %s %v, %v; want %v, %v (%s)", c.name, got, s.Index, index, err, c.fineness, c.index, c.source)
		}
	}
}

// Two sources print rounded figures; they are held to their rounding, and ours to the exact one.
func TestProductAsSpread(t *testing.T) {
	for _, c := range []struct {
		name      string
		product   Product
		rate      Rate
		wants     float64
		tolerance float64
		source    string
	}{
		{"no product named: pure and dry", Product{}, Of(2, Carbonate), 2, 0, "definition"},
		{"rate-01: ECCE 63 (computed)", Product{ECCE: 63}, Of(2, Carbonate), 3.174603, 1e-5, missRule},
		{"rate-02: ECCE 63 and 8 % moisture (computed; the moisture term from memory, not checked)", Product{ECCE: 63, Moisture: 8}, Of(2, Carbonate), 3.450656, 1e-5, missRule},
		{"cce-01: CCE 50 alone (read)", Product{ECCE: 50}, Of(1, Carbonate), 2, 1e-9, clemson},
		{"cce-02: CCE 150 alone; prints 0.67 (read)", Product{ECCE: 150}, Of(1, Carbonate), 0.67, 0.005, clemson},
		{"cce-03: CCE 70 alone; prints 7 (read)", Product{ECCE: 70}, Of(5, Carbonate), 7, 0.15, gardenNotes},
		{"cce-03: exact is 7.14, which we say (computed)", Product{ECCE: 70}, Of(5, Carbonate), 7.142857, 1e-6, gardenNotes},
		{"rate-03: a table at 90 % for a product of 80 %: only the difference (computed)", Product{ECCE: 80}, Of(4, 90), 4.5, 1e-9, ohio},
		{"lime as sold is never divided by quality or water again", Product{ECCE: 63, Moisture: 8}, Of(4, AsSold), 4, 0, "definition"},
	} {
		if got := c.product.AsSpread(c.rate); math.Abs(float64(got)-c.wants) > c.tolerance {
			t.Errorf("%s: %v, want %v (%s)", c.name, got, c.wants, c.source)
		}
	}
}

// The printed whole percent against molar masses, and against the printed pounds that equal a ton.
func TestForms(t *testing.T) {
	const ca, mg, c, o, h = 40.078, 24.305, 12.011, 15.999, 1.008 // IUPAC standard atomic weights, from memory, not checked
	exact := map[string]float64{
		"calcium carbonate": 100, "magnesium carbonate": 118.7, "calcium hydroxide": 135.1, "magnesium hydroxide": 171.6,
		"calcium oxide": 178.5, "magnesium oxide": 248.4,
	}
	molar := map[string]float64{
		"calcium carbonate": ca + c + 3*o, "magnesium carbonate": mg + c + 3*o, "calcium hydroxide": ca + 2*(o+h), "magnesium hydroxide": mg + 2*(o+h),
		"calcium oxide": ca + o, "magnesium oxide": mg + o,
	}
	printed := map[string][2]float64{ // ids nv-MgCO3, nv-CaOH2, nv-MgOH2, nv-CaO, nv-MgO (read)
		"magnesium carbonate": {119, 1680}, "calcium hydroxide": {135, 1480}, "magnesium hydroxide": {172, 1160},
		"calcium oxide": {178, 1120}, "magnesium oxide": {250, 800},
	}
	for _, f := range Forms() {
		if p, ok := printed[f.Name]; ok && (float64(f.CCE) != p[0] || math.Abs(f.OneTon.Pounds()-p[1]) > 1e-9) {
			t.Errorf("%s: CCE %v, %v lb a ton; printed %v (%s)", f.Name, f.CCE, f.OneTon.Pounds(), p, nebraska)
		}
		cce := 100 * molar["calcium carbonate"] / molar[f.Name]
		if math.Abs(cce-exact[f.Name]) > 0.1 { // one decimal, and other atomic weights
			t.Errorf("%s: %.2f by molar masses, the sheet says %v", f.Name, cce, exact[f.Name])
		}
		if math.Abs(cce-float64(f.CCE)) > 1.7 { // the table rounds MgO to 250
			t.Errorf("%s: printed %v, %.1f by molar masses (%s)", f.Name, f.CCE, cce, nebraska)
		}
		if got := (Product{ECCE: f.CCE}).AsSpread(Of(2000, Carbonate)); math.Abs(float64(got)-f.OneTon.Pounds()) > 5 { // printed in whole tens
			t.Errorf("%s: %v lb equal a ton, printed %v (%s)", f.Name, got, f.OneTon.Pounds(), nebraska)
		}
	}
}

// A greedy split of 6.2 at 2.5 a year (computed from the cap of the source).
func TestPasses(t *testing.T) {
	got := Passes(6.2, 2.5) // cap-03
	if len(got) != 3 || got[0] != 2.5 || got[1] != 2.5 || math.Abs(float64(got[2])-1.2) > 1e-9 {
		t.Errorf("Passes(6.2, 2.5) = %v, want 2.5 2.5 1.2 (%s)", got, noble)
	}
	for _, c := range []struct {
		rate, most unit.AreaRate
		n          int
	}{{0, 2.5, 0}, {-1, 2.5, 0}, {2.5, 2.5, 1}, {0.1 * 25, 2.5, 1}, {5, 2.5, 2}, {1.1, 0.1, 11}, {5.0001, 2.5, 3}, {1e9, 1e-9, mostPasses}, {200, 0.2, 1000}, {1, 0, 0},
		{unit.AreaRate(math.NaN()), 1, 0}} {
		if got := Passes(c.rate, c.most); len(got) != c.n {
			t.Errorf("Passes(%v, %v) = %d passes, want %d", c.rate, c.most, len(got), c.n)
		}
	}
}
