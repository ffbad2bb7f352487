package suitability

import (
	"testing"

	"rootworthy/soils"
)

// Another depth of the water table is judged as a rating of the survey with that depth would, also where the works that are declared
// had nothing to lift at the depth that was found.
func TestReadingJudgesTheWaterTableAsARatingWould(t *testing.T) {
	p := DefaultProfile()
	for _, d := range soils.DrainageClasses() {
		for _, drained := range []bool{false, true} {
			opt := RateOptions{Drained: drained}
			// 60 cm is marginal by itself, so that no note tells of the works; see "wet in February" in TestFindings
			found := p.RateUnit(unitOf(good(100, drains(d), wetFrom(60, 2))), opt).Components[0]
			r := p.Reading(&found, p.DefaultTarget().PH)
			if drained {
				r.DeclareDrained()
			}
			for _, cm := range []float64{0, 20, 45, 60, 110} {
				c := p.RateUnit(unitOf(good(100, drains(d), wetFrom(cm, 2))), opt).Components[0]
				if got, want := r.Judged(WaterTable, cm), c.finding(WaterTable).Class; got != want {
					t.Errorf("%v, works declared %v, water at %g cm: %v, want %v", d, drained, cm, got, want)
				}
			}
		}
	}
}
