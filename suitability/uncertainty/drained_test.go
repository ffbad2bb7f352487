package uncertainty_test

import (
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// Works that the user declares bear on every depth that the water table may lie at, not only on the one that the survey calls usual:
// ground that is rated marginal with them and without cannot become unsuited by a high water table on the drained field.
func TestDeclaredWorksLiftTheShallowEndOfTheRange(t *testing.T) {
	c := soil(100, 6.9, 0)
	c.Drainage, c.Slope.Value = soils.ModeratelyWellDrained, unit.Some(2.0)
	for i := range c.Horizons {
		c.Horizons[i].EC, c.Horizons[i].SAR = unit.Some(unit.Conductivity(0)), unit.Some(0.0)
	}
	for m := 1; m <= 12; m++ {
		c.Months = append(c.Months, soils.Month{Month: m, Flooding: soils.Never, Ponding: soils.Never,
			Layers: []soils.MoistureLayer{{Top: unit.Some(unit.Depth(60)), TopLow: unit.Some(unit.Depth(10)), TopHigh: unit.Some(unit.Depth(80)),
				Bottom: unit.Some(unit.Depth(150)), Status: "Wet"}}})
	}
	u := soils.MapUnit{Key: "1", Components: []soils.Component{c}}
	// the first two zones lie on one field, the last on another, so that the ground of the one is not given to the other
	r := resultOf([]soils.MapUnit{u, u, u}, false)
	drained := r.Profile.RateUnit(u, suitability.RateOptions{Drained: true})
	if drained.Class != suitability.Marginal || r.Zones[2].Rating.Class != suitability.Marginal {
		t.Fatalf("%v and %v, want marginal both", drained.Class, r.Zones[2].Rating.Class)
	}
	r.Fields[0].Drained = true
	for _, i := range r.Fields[0].Zones {
		r.Zones[i].Rating = drained
	}
	got := uncertainty.Of(r, uncertainty.Options{AsMapped: true}).Zones
	if x := got[0].Class.Of(suitability.Unsuited); x != 0 {
		t.Errorf("with works a chance of %g of unsuited ground, want none", x)
	}
	if x := got[2].Class.Of(suitability.Unsuited); !(x > 0.05) {
		t.Errorf("without works a chance of %g of unsuited ground: the range no longer reaches it", x)
	}
	// two fields on one rating, as where a run keeps it once for both
	r.Zones[2].Rating = drained
	if x := uncertainty.Of(r, uncertainty.Options{AsMapped: true}).Zones[2].Class.Of(suitability.Unsuited); !(x > 0.05) {
		t.Errorf("the field without works took the ground of the drained one: chance %g", x)
	}
}
