package lime

import (
	"math"
	"testing"

	"rootworthy/soils/unit"
)

const (
	gardenPage = `"Raising pH with limestone", lb per 100 ft² to pH 6.5 by texture (agroconection.com); read; origin of the table unknown`
	bcSheet    = `British Columbia Ministry of Agriculture, Evaluation of Agricultural Limestone, factsheet 637.200-2 (2015)`
	cornell    = `Cornell University CCA study material, PO 41`
	missRule   = `2 Miss. Code R. 1-3-04-100.01`
	clemson    = `Clemson University, By-products as limestone substitutes`
	pennState  = `Penn State Agricultural Analytical Services Laboratory, home garden report notes`
	ohio       = `Ohio State University tables (read in a copy)`
	noble      = `Ball J., Noble Foundation, Top 10 liming questions (2002; read in a copy)`
	nebraska   = `University of Nebraska PASSeL, Liming materials, table 4.4`
)

// The table as printed, lb per 100 ft².
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
	// × 435.6 lb/ac: 1.3068 short tons an acre (computed; tolerance as in the check value)
	if got := Screen(SandyLoam, 5.5, 6.5).Rate.Or(0).ShortTonsPerAcre(); math.Abs(got-1.3068) > 0.001 {
		t.Errorf("sandy loam from 5.5 = %v short tons/ac, want 1.3068 (%s)", got, gardenPage)
	}
}

func TestFinenessAndECCE(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want unit.Percent
		tolerance float64
		source    string
	}{
		{"fineness 78.8/10/2.4", Sieved{78.8, 10, 2.4}.Fineness(), 85.28, 0.005, bcSheet},
		{"fineness 90/6/4; the sheet prints 94.46, exact is 94.40", Sieved{90, 6, 4}.Fineness(), 94.46, 0.1, bcSheet},
		{"fineness 50/30/15 (computed)", Sieved{50, 30, 15}.Fineness(), 71, 1e-6, bcSheet},
		{"ECCE of CCE 90, fineness 71 (computed)", ECCE(90, 71), 63.9, 1e-6, bcSheet},
		{"ENV of CCE 95, passes 100/80/60 (computed)", CornellENV(95, 100, 80, 60), 79.8, 1e-6, cornell},
		{"RNV of CCE 90, passes 90/50", RNV(90, 90, 50), 63, 1e-6, missRule},
		{"RNV of CCE 95, passes 98/70 (computed)", RNV(95, 98, 70), 79.8, 1e-6, missRule},
	} {
		if math.Abs(float64(c.got-c.want)) > c.tolerance {
			t.Errorf("%s = %v, want %v (%s)", c.name, c.got, c.want, c.source)
		}
	}
}

func TestProductAsSpread(t *testing.T) {
	for _, c := range []struct {
		name                  string
		product               Product
		recommendation, wants float64
		tolerance             float64
		source                string
	}{
		{"no product named: pure and dry", Product{}, 2, 2, 0, "definition"},
		{"ECCE 63 (computed)", Product{ECCE: 63}, 2, 3.174603, 1e-5, missRule},
		{"ECCE 63 and 8 % moisture (computed; the moisture term from memory, not checked)", Product{ECCE: 63, Moisture: 8}, 2, 3.450656, 1e-5, missRule},
		{"CCE 50 alone", Product{ECCE: 50}, 1, 2, 1e-9, clemson},
		{"CCE 150 alone; prints 0.67", Product{ECCE: 150}, 1, 0.67, 0.005, clemson},
		{"CCE 70 alone; prints 7, exact is 7.14", Product{ECCE: 70}, 5, 7, 0.15, pennState},
		// a table made for lime of 90 % neutralising value, 4 tons, is 3.6 tons of calcium carbonate
		{"a table at 90 % for a product of 80 % (computed)", Product{ECCE: 80}, 4 * 0.90, 4.5, 1e-9, ohio},
		{"calcium oxide: 1120 lb equal a ton of calcium carbonate; prints whole tens", Product{ECCE: 178}, 2000, 1120, 5, nebraska},
		{"magnesium oxide: 800 lb", Product{ECCE: 250}, 2000, 800, 5, nebraska},
		{"calcium hydroxide: 1480 lb", Product{ECCE: 135}, 2000, 1480, 5, nebraska},
	} {
		if got := c.product.AsSpread(unit.AreaRate(c.recommendation)); math.Abs(float64(got)-c.wants) > c.tolerance {
			t.Errorf("%s: %v, want %v (%s)", c.name, got, c.wants, c.source)
		}
	}
}

// A greedy split of 6.2 at 2.5 a year (computed from the cap of the source).
func TestPasses(t *testing.T) {
	got := Passes(6.2, 2.5)
	if len(got) != 3 || got[0] != 2.5 || got[1] != 2.5 || math.Abs(float64(got[2])-1.2) > 1e-9 {
		t.Errorf("Passes(6.2, 2.5) = %v, want 2.5 2.5 1.2 (%s)", got, noble)
	}
	for _, c := range []struct {
		rate, most unit.AreaRate
		n          int
	}{{0, 2.5, 0}, {-1, 2.5, 0}, {2.5, 2.5, 1}, {0.1 * 25, 2.5, 1}, {5, 2.5, 2}, {1.1, 0.1, 11}, {5.0001, 2.5, 3}, {1e9, 1e-9, 100}, {1, 0, 0},
		{unit.AreaRate(math.NaN()), 1, 0}} {
		if got := Passes(c.rate, c.most); len(got) != c.n {
			t.Errorf("Passes(%v, %v) = %d passes, want %d", c.rate, c.most, len(got), c.n)
		}
	}
}
