package nutrient

import (
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// A line of sulfur holds in its stage, its class and below its figure only. The table is invented; 12 lb/ac over 2,000,000 lb of soil
// are 6 ppm.
func TestSulfurByStageAndFigure(t *testing.T) {
	line := "[[fixed]]\nnutrient = \"s\"\nstage = \"establish\"\nclass = \"low\"\nlb_ac = 20\n"
	maintain := strings.NewReplacer("establish", "maintain", "20", "35").Replace(line)
	figure := strings.Replace(line, "lb_ac = 20", "lb_ac = 30\nbelow_lb_ac = 12", 1)
	tested := func(ppm float64) Soil { return soilOf(map[lab.Element]float64{lab.Sulfur: ppm}) }
	said := Soil{Printed: []Printed{{Sulfur, "low"}}}
	limit := Soil{Sample: &lab.Sample{Nutrients: []lab.Nutrient{{Element: lab.Sulfur, Extractant: lab.Mehlich3,
		ByMass: lab.Reading[unit.Content]{Value: unit.Some(unit.Content(7)), Bound: lab.Below}}}}}
	for name, c := range map[string]struct {
		lines string
		soil  Soil
		stage Stage
		rate  float64 // lb/ac
		why   string  // or the code of the refusal
	}{
		"before sowing":            {line + maintain, tested(5), Establish, 20, ""},
		"on the stand":             {line + maintain, tested(5), Maintain, 35, ""},
		"another stage only":       {line, tested(5), Maintain, 0, NotAsked},
		"another class":            {line + maintain, tested(9), Maintain, 0, Enough},
		"under the figure":         {figure + line, tested(5), Establish, 30, ""},
		"at the figure":            {figure + line, tested(6), Establish, 20, ""},
		"over it, no other line":   {figure, tested(7), Establish, 0, Enough},
		"a class, but no figure":   {figure, said, Establish, -1, NotMeasured},
		"a limit over the figure":  {figure, limit, Establish, -1, BeyondDetection},
		"a class is enough if all": {line, said, Establish, 20, ""},
	} {
		var faults diag.List
		tab, ok, err := ReadTable("own.toml", strings.NewReader(strings.Replace(own, line, c.lines, 1)), &faults)
		if !ok || err != nil {
			t.Fatal(name, err, faults.String())
		}
		got := find(t, tab.Require(c.soil, Ask{Stage: c.stage}), Sulfur)
		checkNeed(t, name, got)
		why := got.Why
		if got.Refusal != nil {
			why = got.Refusal.Code
		}
		want := unit.PoundsPerAcre(c.rate)
		if rate := got.Rate.Or(unit.PoundsPerAcre(-1)); rate != want || why != c.why {
			t.Errorf("%s: %g lb/ac, %q; want %g, %q", name, rate.PoundsPerAcre(), why, c.rate, c.why)
		}
	}
}
