package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The values are check values of the project's reference sheet; the id and the source stand beside each.
func TestSoilConversions(t *testing.T) {
	for _, c := range []struct {
		name           string
		got, want, tol float64
		source         string
	}{
		{"ppm-01: 50 lb/ac in ppm", float64(ContentFromPoundsPerAcre(50, 2e6)), 25, 0, "Joines, UT fertility recommendations; read"},
		{"ppm-01: 25 ppm over the plow slice, lb/ac", float64(Content(25).Over(PlowSlice) / PoundPerAcre), 50, 1e-12, "Joines, UT fertility recommendations; read"},
		{"al-06: 1 meq/100 g as CaCO3, mg/kg", float64(Charge(1).Content(CarbonateEquivalent)), 500, 0, "Brady & Weil 2008, quoted; computed"},
		{"al-06: the same over 2,240,000 kg/ha, kg/ha", float64(Charge(1).Content(CarbonateEquivalent).Over(224)) * 1e4, 1120, 1e-9, "Brady & Weil 2008, quoted; computed"},
		{"al-07: 1 meq/100 g as CaCO3 over the slice, lb/ac", float64(Charge(1).Content(CarbonateEquivalent).Over(PlowSlice) / PoundPerAcre), 1000, 1e-9, "definition; computed"},
		{"cec-01: K 200, Mg 150, Ca 1000 lb/ac in meq/100 g, without 2.4 of acidity", bases(200, 150, 1000), 5.7814 - 2.4, 5e-5, "Spectrum Analytic 2017; computed"},
		{"cec-02: the same without acidity, for a buffer pH of 7.1 over the 7.0 it is counted from", bases(200, 150, 1000), 3.3814, 5e-5, "Spectrum Analytic 2017; computed"},
		{"slice-02: 6.6667 in of 1.3239 g/cm³, lb/ac", float64(SoilOver(6.6667*2.54, 1.3239) / PoundPerAcre), 2e6, 500, "definition; computed"},
		{"slice-04: 15 cm of 1.33 g/cm³, kg/ha", float64(SoilOver(15, 1.33)) * 1e4, 1995000, 1e-6, "definition; computed"},
		{"lbc-07: 400 mg CaCO3/kg over the slice, lb/ac", float64(Content(400).Over(PlowSlice) / PoundPerAcre), 800, 1e-9, "definition of LBC; computed"},
		{"lbc-06: 400 mg CaCO3/kg over 15 cm of 1.4 g/cm³, kg/ha", float64(Content(400).Over(SoilOver(15, 1.4))) * 1e4, 840, 1e-9, "definition of LBC; computed"},
		{"ox-01: 10 of P as P2O5", 10 * PhosphateOfPhosphorus, 22.91, 0.01, "definition; computed"},
		{"ox-02: 10 of K as K2O", 10 * PotashOfPotassium, 12.05, 0.01, "definition; computed"},
		{"unit-1: 1 st/ac in Mg/ha", ShortTonPerAcre.TonnesPerHectare(), 2.2417, 1e-4, "definition; computed"},
		{"unit-2: 1 lb/ac in kg/ha", float64(PoundPerAcre) * 1e4, 1.120851, 1e-5, "definition; computed"},
		{"n-4: 448 kg/ha in lb/ac", 448 / (float64(PoundPerAcre) * 1e4), 399.7, 0.02, "definition; computed"},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s = %.10g, want %g ± %g (%s)", c.name, c.got, c.want, c.tol, c.source)
		}
	}
}

// bases is the sum of the bases of figures in lb/ac of the plow slice.
func bases(k, mg, ca float64) float64 {
	at := func(lb float64, e Equivalent) Charge { return ContentFromPoundsPerAcre(lb, 2e6).Charge(e) }
	return float64(at(k, PotassiumEquivalent) + at(mg, MagnesiumEquivalent) + at(ca, CalciumEquivalent))
}

// The exact weights stand apart from the trade's whole ones by no more than the doc comment says.
// Source: IUPAC standard atomic weights (Ca 40.078, Mg 24.305, K 39.0983, Na 22.990, Al 26.982, C 12.011, O 15.999), from memory, not checked.
func TestTradeEquivalentsAreNearTheExactOnes(t *testing.T) {
	for _, c := range []struct {
		name         string
		trade        Equivalent
		exact, limit float64
	}{
		{"Ca", CalciumEquivalent, 40.078 / 2, 0.002},
		{"Mg", MagnesiumEquivalent, 24.305 / 2, 0.013},
		{"K", PotassiumEquivalent, 39.0983, 0.003},
		{"Na", SodiumEquivalent, 22.990, 0.001},
		{"Al", AluminumEquivalent, 26.982 / 3, 0.001},
		{"CaCO3", CarbonateEquivalent, (40.078 + 12.011 + 3*15.999) / 2, 0.001},
	} {
		if off := math.Abs(float64(c.trade)/c.exact - 1); off > c.limit {
			t.Errorf("%s: %g is %.2g off %g, more than %g", c.name, float64(c.trade), off, c.exact, c.limit)
		}
	}
}

// By volume and by mass differ by the density of what was in the scoop.
func TestVolumeNeedsDensity(t *testing.T) {
	if got := VolumeContent(60).ByMass(1.2); got != 50 {
		t.Errorf("60 mg/dm³ at 1.2 g/cm³ = %v mg/kg, want 50", got)
	}
	if got := VolumeCharge(1.2).ByMass(1.2); got != 1 {
		t.Errorf("1.2 meq/100 cm³ at 1.2 g/cm³ = %v meq/100 g, want 1", got)
	}
}

// What goes into SI and out again is what went in, to the last bits.
func TestUnitsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(1e-6, 1e9).Draw(t, "v")
		for name, back := range map[string]float64{
			"acres":              Acres(v).Acres(),
			"hectares":           Hectares(v).Hectares(),
			"short tons/ac":      ShortTonsPerAcre(v).ShortTonsPerAcre(),
			"inches":             InchesDeep(v).Inches(),
			"t/ha":               (AreaRate(v) * TonnePerHectare).TonnesPerHectare(),
			"pounds":             (Mass(v) * Pound).Pounds(),
			"short tons":         (Mass(v) * ShortTon).ShortTons(),
			"lb/ac of the slice": float64(ContentFromPoundsPerAcre(v, 2e6).Over(PlowSlice) / PoundPerAcre),
			"meq of calcium":     float64(Charge(v).Content(CalciumEquivalent).Charge(CalciumEquivalent)),
			"rate over area":     float64(AreaRate(v).Over(Acre)) / float64(Acre),
		} {
			if !(math.Abs(back/v-1) <= 4e-16*4) { // four roundings at most
				t.Fatalf("%v %s came back as %v", v, name, back)
			}
		}
	})
}
