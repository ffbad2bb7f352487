package soils

import (
	"cmp"
	"math"
	"testing"

	"rootworthy/soils/unit"
)

// share is a component with what weighing looks at.
func share(name string, percent float64, slope unit.Opt[float64]) Component {
	return Component{Name: name, Percent: unit.Some(unit.Percent(percent)), Slope: Range[float64]{Value: slope}}
}

func slopeOf(c *Component) unit.Opt[float64] { return c.Slope.Value }

// The percents of a unit are divided by their own sum, and a component without a value takes no part.
func TestUnitMeanDividesByWhatHasAValue(t *testing.T) {
	none := unit.None[float64]()
	u := MapUnit{Components: []Component{share("a", 60, unit.Some(2.0)), share("b", 20, none), share("c", 10, unit.Some(9.0)), share("d", 0, unit.Some(99.0))}}
	u.Components = append(u.Components, Component{Name: "no percent", Slope: Range[float64]{Value: unit.Some(50.0)}})
	mean, weight := UnitMean(&u, slopeOf)
	near(t, "mean (60×2 + 10×9)/70", mean, 3, 1e-12)
	if weight != 70 || u.TotalPercent() != 90 {
		t.Errorf("weight %v of %v, want 70 of 90", weight, u.TotalPercent())
	}
	mean, weight = UnitMean(&MapUnit{Components: u.Components[1:2]}, slopeOf)
	near(t, "mean without a value", mean, math.NaN(), 0)
	if weight != 0 {
		t.Errorf("weight %v, want 0", weight)
	}
}

// The agency's rule for components of equal percent: the steeper first; a slope that is not recorded loses to any.
func TestDominantComponentTies(t *testing.T) {
	none := unit.None[float64]()
	for _, c := range []struct {
		name       string
		components []Component
		want       string
	}{
		{"percent", []Component{share("a", 40, unit.Some(9.0)), share("b", 45, none)}, "b"},
		{"steeper of equals", []Component{share("a", 45, unit.Some(5.0)), share("b", 45, unit.Some(8.0))}, "b"},
		{"a slope not recorded loses", []Component{share("a", 45, none), share("b", 45, unit.Some(0.0))}, "b"},
		{"first of full equals", []Component{share("a", 45, unit.Some(5.0)), share("b", 45, unit.Some(5.0))}, "a"},
		{"percent not recorded", []Component{{Name: "x"}, share("a", 0, none)}, "a"},
	} {
		u := MapUnit{Components: c.components}
		if got, ok := u.DominantComponent(); !ok || got.Name != c.want {
			t.Errorf("%s: got %v, want %s", c.name, got, c.want)
		}
	}
	if c, ok := (&MapUnit{Components: []Component{{Name: "x"}}}).DominantComponent(); ok {
		t.Errorf("a unit without percents has the dominant component %v", c)
	}
}

// A class may be the largest of the unit though each of its components is small.
func TestDominantCondition(t *testing.T) {
	drained := func(percent float64, d DrainageClass) Component {
		return Component{Percent: unit.Some(unit.Percent(percent)), Drainage: d}
	}
	for _, c := range []struct {
		name       string
		components []Component
		want       DrainageClass
		percent    unit.Percent
	}{
		{"classes add up", []Component{drained(40, WellDrained), drained(35, PoorlyDrained), drained(25, PoorlyDrained)}, PoorlyDrained, 60},
		{"what is not recorded may win", []Component{drained(40, WellDrained), drained(35, DrainageUnknown), drained(25, DrainageUnknown)}, DrainageUnknown, 60},
		{"a tie goes to the later of the domain", []Component{drained(50, PoorlyDrained), drained(50, WellDrained)}, PoorlyDrained, 50},
		{"a tie goes to the recorded", []Component{drained(50, DrainageUnknown), drained(50, WellDrained)}, WellDrained, 50},
	} {
		u := MapUnit{Components: c.components}
		got, percent, ok := DominantCondition(&u, nil, func(c *Component) DrainageClass { return c.Drainage }, laterDrainage)
		if got != c.want || percent != c.percent || !ok {
			t.Errorf("%s: %v with %v percent, want %v with %v", c.name, got, percent, c.want, c.percent)
		}
	}
	if _, _, ok := DominantCondition(&MapUnit{}, nil, floodingClass, cmp.Compare); ok {
		t.Error("a unit without components has a dominant condition")
	}
}

// A unit that was not completed has no components: everything is missing, nothing is zero.
func TestAggregateOfAnEmptyUnit(t *testing.T) {
	if got := Aggregate(&MapUnit{Symbol: "NOTCOM"}); got != (UnitAggregate{}) {
		t.Errorf("got %+v", got)
	}
}

// Halves as they are written, not as binary has them, where 4.35 is a little less.
func TestRoundHalfAway(t *testing.T) {
	for _, c := range []struct {
		x        float64
		decimals int
		want     float64
	}{
		{2.25, 1, 2.3}, {-2.25, 1, -2.3}, {1.005, 2, 1.01}, {35.45, 1, 35.5}, {0.449999, 1, 0.4}, {0.5, 0, 1}, {-0.4, 0, 0},
		{0.1 + 0.2 + 0.05, 1, 0.4}, // 0.35000000000000003
		{4.35, 1, 4.4},             // 4.3499999999999996 in binary
	} {
		if got := roundHalfAway(c.x, c.decimals); got != c.want {
			t.Errorf("roundHalfAway(%v, %d) = %v, want %v", c.x, c.decimals, got, c.want)
		}
	}
}
