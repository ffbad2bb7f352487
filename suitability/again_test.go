package suitability

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/soils"
)

// A soil that is wet by its class and described dry: the two witnesses take the note that says no wet layer was described, and the
// water table still counts as judged when the unit is rated again.
func TestAgainKeepsADryDescriptionOfWetGround(t *testing.T) {
	p := DefaultProfile()
	for _, d := range soils.DrainageClasses() {
		u := unitOf(good(100, drains(d)))
		from := p.RateUnit(u, RateOptions{})
		if f := from.Components[0].finding(WaterTable); f.Value.Has() || f.Class != Suited {
			t.Fatalf("%v: no wet layer is described, yet the water table reads %+v", d, f)
		}
		for _, drained := range []bool{false, true} {
			opt := RateOptions{Drained: drained}
			if got, want := p.Again(from, opt), p.RateUnit(u, opt); !reflect.DeepEqual(got, want) {
				t.Errorf("%v, works declared %v:\n got %+v\nwant %+v", d, drained, got, want)
			}
		}
	}
}

// Rated again with nothing moved, any unit is what it was, so that a what-if that moves one limit shows that limit's doing alone.
func TestAgainWithoutAChangeChangesNothing(t *testing.T) {
	p := DefaultProfile()
	rapid.Check(t, func(t *rapid.T) {
		opt := RateOptions{Drained: rapid.Bool().Draw(t, "drained")}
		want := p.RateUnit(drawUnit(t), opt)
		if got := p.Again(want, opt); !reflect.DeepEqual(got, want) {
			t.Fatalf(" got %+v\nwant %+v", got, want)
		}
	})
}
