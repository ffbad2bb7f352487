package lime

import (
	"math"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// TestAluminumSaturationFromAFile: the method can be had from a laboratory's file, whose bulk density is that of the soil
// as it lies; the weight of what was scooped is none.
//
// Source of the rule: Cochrane, Salinas and Sanchez 1980. 1.5 (2.0 - 20 (2.0 + 1.0 + 0.5) / 100) = 1.95 meq/100 g, times
// 1.4 g/cm³ = 2.73 t/ha; computed by hand.
func TestAluminumSaturationFromAFile(t *testing.T) {
	const head = "sample_id,ph_water,al_kcl_meq,ca_kcl_meq,mg_kcl_meq,"
	for column, want := range map[string]float64{"bulk_density_g_cm3": 2.73, "Bulk density (g/cc)": 2.73, "W/V (g/cm3)": 0} {
		text := head + column + "\nA,5.2,2.0,1.0,0.5,1.4\n"
		faults := &diag.List{}
		res, err := lab.Read("lab.csv", strings.NewReader(text), int64(len(text)), nil, faults)
		if err != nil || len(res.Samples) != 1 || faults.Faults() > 0 {
			t.Fatalf("%s: %v %v", column, err, faults)
		}
		m, _ := MethodByName("al-saturation")
		need, err := m.Require(SoilOf(&res.Samples[0]), Ask{Target: 6.5, Saturation: unit.Some(unit.Percent(20))})
		if got := need.Rate.Amount().TonnesPerHectare(); (err == nil) != (want > 0) || math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g t/ha, %v; want %g", column, got, err, want)
		}
	}
}
