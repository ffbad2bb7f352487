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

// The side on which a limit is met is where the curve is higher, also where the curve begins with the mark.
func TestLimitsTellTheirSide(t *testing.T) {
	for _, l := range whatif.Limits(suitability.DefaultProfile()) {
		falls := l.Criterion == suitability.Salinity || l.Criterion == suitability.Sodicity || l.Criterion == suitability.Slope
		if l.Falls != falls {
			t.Errorf("%s: less is better %v, want %v", l.Key, l.Falls, falls)
		}
	}
	const suited, marginal = suitability.SuitedMark, suitability.MarginalMark
	for name, c := range map[string]struct {
		points []suitability.Point
		want   map[string]bool
	}{
		"rises from the mark":            {[]suitability.Point{{Value: 20, Score: marginal}, {Value: 60, Score: suited}, {Value: 90, Score: 100}}, map[string]bool{"depth.marginal": false, "depth.suited": false}},
		"level, then rises":              {[]suitability.Point{{Value: 20, Score: suited}, {Value: 60, Score: suited}, {Value: 90, Score: 100}}, map[string]bool{"depth.suited": false}},
		"falls from the mark":            {[]suitability.Point{{Value: 20, Score: suited}, {Value: 60, Score: marginal}, {Value: 90, Score: 0}}, map[string]bool{"depth.suited": true, "depth.marginal": true}},
		"level, then falls":              {[]suitability.Point{{Value: 20, Score: suited}, {Value: 60, Score: suited}, {Value: 90, Score: 0}}, map[string]bool{"depth.suited": true}},
		"comes down to it from full":     {[]suitability.Point{{Value: 20, Score: 100}, {Value: 60, Score: suited}}, map[string]bool{"depth.suited": true}},
		"rises to it from none, as most": {[]suitability.Point{{Value: 0, Score: 0}, {Value: 60, Score: suited}}, map[string]bool{"depth.suited": false}},
	} {
		p := suitability.DefaultProfile()
		p.Depth.Points = c.points
		seen := 0
		for _, l := range whatif.Limits(p) {
			if want, ok := c.want[l.Key]; ok {
				seen++
				if l.Falls != want {
					t.Errorf("%s: %s: less is better %v, want %v", name, l.Key, l.Falls, want)
				}
			}
		}
		if seen != len(c.want) {
			t.Errorf("%s: %d of %d limits found", name, seen, len(c.want))
		}
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
