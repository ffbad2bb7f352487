package whatif_test

import (
	"reflect"
	"testing"

	"rootworthy/soils"
	"rootworthy/suitability"
	"rootworthy/suitability/whatif"
)

// Every limit can go to both ends of its room and no further; the class then changes at the new value.
func TestLimitsMoveBetweenTheirNeighbours(t *testing.T) {
	p := suitability.DefaultProfile()
	limits := whatif.Limits(p)
	if len(limits) != 16 {
		t.Fatalf("%d limits, want two on each of eight curves", len(limits))
	}
	for _, l := range limits {
		for _, to := range []float64{l.Least, l.Most} {
			q, err := whatif.Apply(p, map[string]float64{l.Key: to})
			if err != nil {
				t.Errorf("%s to %g: %v", l.Key, to, err)
				continue
			}
			for _, m := range whatif.Limits(q) {
				if m.Key == l.Key && m.Value != to {
					t.Errorf("%s moved to %g reads %g", l.Key, to, m.Value)
				}
			}
		}
		for _, to := range []float64{l.Least - l.Step, l.Most + l.Step} {
			if _, err := whatif.Apply(p, map[string]float64{l.Key: to}); err == nil {
				t.Errorf("%s was moved to %g, beyond %g to %g", l.Key, to, l.Least, l.Most)
			}
		}
	}
	if !reflect.DeepEqual(p, suitability.DefaultProfile()) {
		t.Error("the profile itself was changed")
	}
	if _, err := whatif.Apply(p, map[string]float64{"depth.good": 3}); err == nil {
		t.Error("an unknown limit was taken")
	}
}

// Every pair of classes: refused, or read back from the profile as it was asked for.
func TestDrainageLimits(t *testing.T) {
	p := suitability.DefaultProfile()
	if s, m := whatif.WettestSuited(p), whatif.WettestMarginal(p); s != soils.WellDrained || m != soils.ModeratelyWellDrained {
		t.Fatalf("suited from %v, marginal from %v", s, m)
	}
	for _, suited := range soils.DrainageClasses() {
		for _, marginal := range soils.DrainageClasses() {
			q, err := whatif.Drainage(p, suited, marginal)
			if possible := suited <= soils.WellDrained && marginal <= suited; possible != (err == nil) {
				t.Errorf("suited from %v, marginal from %v: %v", suited, marginal, err)
			} else if possible && (whatif.WettestSuited(q) != suited || whatif.WettestMarginal(q) != marginal) {
				t.Errorf("suited from %v, marginal from %v reads %v and %v", suited, marginal, whatif.WettestSuited(q), whatif.WettestMarginal(q))
			}
		}
	}
}
