package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

const seedSize = "No-Till Farmer, Alfalfa seed size, shape affect seeder calibration"

func TestSmallAndCountedThings(t *testing.T) {
	perAcre := (220000 * PerPound).Over(PoundPerAcre)
	for _, c := range []struct {
		name           string
		got, want, tol float64
		source         string
	}{
		{"ox-01: 10 lb of P as P2O5", (Phosphate(10 * Pound)).Pounds(), 22.91, 0.01, "definition; computed"},
		{"ox-02: 10 lb of K as K2O", (Potash(10 * Pound)).Pounds(), 12.05, 0.01, "definition; computed"},
		{"16 oz in a pound", Pound.Ounces(), 16, 1e-12, "NIST SP 811; read"},
		{"a pound in grams", Pound.Grams(), 453.59237, 1e-9, "NIST SP 811; read"},
		{"a US gallon is 3.785411784 L", float64(GallonPerAcre) * float64(Acre), 3.785411784, 1e-12, "NIST SP 811; read"},
		{"seed-2: 1 lb/ac of 220,000 seeds/lb, seeds/ft²", perAcre.PerSquareFoot(), 5.0505, 0.001, seedSize + "; computed"},
		{"seed-3: 22 lb/ac, seeds/ft²", 22 * perAcre.PerSquareFoot(), 111.111, 0.01, seedSize + "; computed"},
		{"seed-4: 111.111 seeds/ft² in rows of 7.5 in, seeds/ft", (111.111 * PerSquareFoot).Along(Inches(7.5)).PerFoot(), 69.444, 0.01, seedSize + "; computed"},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s = %.10g, want %g ± %g (%s)", c.name, c.got, c.want, c.tol, c.source)
		}
	}
}

// To the last bit or two: figures that are converted to be shown and back to be stored may not drift.
func TestOxidesRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(1e-6, 1e9).Draw(t, "v")
		for name, back := range map[string]float64{
			"phosphate": Phosphorus(Phosphate(v)), "potash": Potassium(Potash(v)), "lb/ac": PoundsPerAcre(v).PoundsPerAcre(),
			"inches": Inches(v).Inches(), "feet": (Length(v) * Foot).Feet(), "per ft²": (PerArea(v) * PerSquareFoot).PerSquareFoot(),
			"per ft": (PerLength(v) * PerFoot).PerFoot(), "ounces": (Mass(v) * Ounce).Ounces(),
		} {
			if !(math.Abs(back/v-1) <= 1e-15*2) {
				t.Fatalf("%v %s came back as %v", v, name, back)
			}
		}
	})
}
