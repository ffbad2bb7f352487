package nutrient

import (
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
)

// A line of magnesium with a figure holds under it only. The table is invented; 60 lb/ac over 2,000,000 lb of soil are 30 ppm.
func TestMagnesiumBelowAFigure(t *testing.T) {
	const line = "nutrient = \"mg\"\nstage = \"establish\"\nclass = \"low\"\n"
	var faults diag.List
	tab, ok, err := ReadTable("own.toml", strings.NewReader(strings.Replace(own, line, line+"below_lb_ac = 60\n", 1)), &faults)
	if !ok || err != nil {
		t.Fatal(err, faults.String())
	}
	for ppm, want := range map[float64]float64{29: 25, 30: 0, 45: 0} {
		got := find(t, tab.Require(soilOf(map[lab.Element]float64{lab.Magnesium: ppm}), Ask{}), Magnesium)
		checkNeed(t, "magnesium", got)
		if got.Class != "low" || got.Rate.Or(-1).PoundsPerAcre() != want {
			t.Errorf("%g ppm: %+v, want %g lb/ac", ppm, got, want)
		}
	}
	if got := find(t, tab.Require(Soil{Printed: []Printed{{Magnesium, "low"}}}, Ask{}), Magnesium); got.Refusal == nil || got.Refusal.Code != NotMeasured {
		t.Errorf("a class without the figure: %+v", got)
	}
}
