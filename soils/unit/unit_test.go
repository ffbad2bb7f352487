package unit

import (
	"encoding/json"
	"math"
	"testing"
)

// The factors are exact by definition: 1 lb = 0.45359237 kg and 1 yd = 0.9144 m (international yard and pound
// agreement of 1959; NIST Special Publication 811, appendix B).
func TestCustomaryUnits(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"acre in m²", float64(Acre), 4046.8564224},
		{"short ton in kg", float64(ShortTon), 907.18474},
		{"short ton/ac in mg/m²", float64(ShortTonPerAcre) * 1e6, 224170.2312},
		{"lb/ac in mg/m²", float64(PoundPerAcre) * 1e6, 112.0851156},
		{"short ton/ac in t/ha", ShortTonPerAcre.TonnesPerHectare(), 2.241702312},
		{"lb/100 ft² in short tons/ac", float64(Pound) / (100 * float64(SquareFoot)) / float64(ShortTonPerAcre), 0.2178},
		{"1 ha in acres", Hectare.Acres(), 2.4710538},
		{"30 cm in inches", Depth(30).Inches(), 11.8110236},
		{"2.5 st/ac over 10 ac in st", ShortTonsPerAcre(2.5).Over(Acres(10)).ShortTons(), 25},
	} {
		if math.Abs(c.got/c.want-1) > 1e-7 {
			t.Errorf("%s = %.10g, want %.10g", c.name, c.got, c.want)
		}
	}
}

// In JSON too: null for what is missing, 0 for a measured nothing.
func TestMissingIsNotZero(t *testing.T) {
	var o Opt[PH]
	if _, ok := o.Get(); ok || o.Has() || o.Or(7) != 7 {
		t.Errorf("the zero Opt has a value: %v", o)
	}
	b, err := json.Marshal([]Opt[PH]{o, Some(PH(0))})
	if err != nil || string(b) != "[null,0]" {
		t.Errorf("JSON = %s, %v; want [null,0]", b, err)
	}
	var back []Opt[PH]
	if err := json.Unmarshal(b, &back); err != nil || back[0].Has() || !back[1].Has() {
		t.Errorf("read back %v, %v", back, err)
	}
}
