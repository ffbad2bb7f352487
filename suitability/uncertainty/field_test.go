package uncertainty_test

import (
	"math"
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/uncertainty"
)

// fieldOf is one field of equal zones, one on each map unit.
func fieldOf(units ...soils.MapUnit) *suitability.Result {
	r := resultOf(units, false)
	f := suitability.Field{ID: "F"}
	for i := range r.Zones {
		r.Zones[i].Area, r.Zones[i].FieldID = 1000, "F"
		f.Zones, f.Area = append(f.Zones, i), f.Area+1000
	}
	r.Fields = []suitability.Field{f}
	return r
}

// Two zones of which each is suited in half of all cases. By hand: where their soil is one and the same they are so together, in one of
// two cases, and never one alone; where the soils differ one alone is suited in half of all cases.
func TestZonesOfOneSoilErrTogether(t *testing.T) {
	unitOf := func(key, name string) soils.MapUnit {
		s := soil(100, 5.5, 0.5)
		s.Name = name
		return soils.MapUnit{Key: key, Components: []soils.Component{s}}
	}
	for _, tc := range []struct {
		name   string
		units  []soils.MapUnit
		middle [2]float64 // m² suited in the middle case: at least, at most
	}{
		{"one soil on two map units", []soils.MapUnit{unitOf("1", "Dunsop"), unitOf("2", "Dunsop")}, [2]float64{0, 2000}},
		{"one map unit twice", []soils.MapUnit{unitOf("1", "Dunsop"), unitOf("1", "Dunsop")}, [2]float64{0, 2000}},
		{"two soils", []soils.MapUnit{unitOf("1", "Dunsop"), unitOf("2", "Aldermoor")}, [2]float64{1000, 1000}},
	} {
		f := uncertainty.Of(fieldOf(tc.units...), uncertainty.Options{}).Fields[0]
		apart := tc.middle[0] == tc.middle[1]
		if f.Suited.Low != 0 || f.Suited.High != 2000 || (f.Suited.Middle == 1000) != apart {
			t.Errorf("%s: suited %+v", tc.name, f.Suited)
		}
	}
}

// Lime of two zones on one soil is twice that of one, at both ends: errors of one survey and one table do not cancel. By hand, from the
// interval of a zone.
func TestLimeOfAFieldIsAsWideAsThatOfItsZones(t *testing.T) {
	a, b := soil(100, 5.6, 0.3), soil(100, 5.6, 0.3)
	b.Name = a.Name
	r := fieldOf(soils.MapUnit{Key: "1", Components: []soils.Component{a}}, soils.MapUnit{Key: "2", Components: []soils.Component{b}})
	for i := range r.Zones {
		r.Zones[i].Lime = limeplan.Plan(r.Profile, r.Zones[i].Rating, 1000, limeplan.Options{})
	}
	s := uncertainty.Of(r, uncertainty.Options{Error: 0.005})
	zone, ok := s.Zones[0].Need.Get()
	field, has := s.Fields[0].Lime.Get()
	if !ok || !has || zone.High <= zone.Low {
		t.Fatalf("zone %v, field %v", zone, field)
	}
	for _, x := range [][2]float64{{field.Low, zone.Low}, {field.Middle, zone.Middle}, {field.High, zone.High}} {
		if math.Abs(x[0]/(2000*x[1])-1) > 0.01 {
			t.Errorf("field %v kg, zone %v kg/m² on 1,000 m² each", field, zone)
		}
	}
}

// A zone with a rate by a method whose error nobody published has a figure and no range. The field then has none either: that of its
// other zone is not the field's. A zone that needs nothing takes no range away.
func TestLimeOfAFieldWithoutTheRangeOfAZone(t *testing.T) {
	r := fieldOf(soils.MapUnit{Key: "1", Components: []soils.Component{soil(100, 5.6, 0.3)}}, soils.MapUnit{Key: "2", Components: []soils.Component{soil(100, 5.6, 0.3)}})
	for i := range r.Zones {
		r.Zones[i].Lime = limeplan.Plan(r.Profile, r.Zones[i].Rating, 1000, limeplan.Options{})
	}
	for _, tc := range []struct {
		rate unit.AreaRate
		sd   unit.Opt[unit.Fraction]
		want bool
	}{{0.4, unit.None[unit.Fraction](), false}, {0.4, unit.Some(unit.Fraction(0.2)), true}, {0, unit.None[unit.Fraction](), true}} {
		r.Zones[0].Lime = suitability.Lime{Basis: limeplan.BasisTest + "a method", Likely: unit.Some(tc.rate), Test: &suitability.LimeTest{Error: tc.sd}}
		s := uncertainty.Of(r, uncertainty.Options{})
		if got := s.Fields[0].Lime.Has(); got != tc.want || !s.Zones[1].Need.Has() {
			t.Errorf("rate %v, error %v: a range of the field %v, want %v", tc.rate, tc.sd, got, tc.want)
		}
	}
}

// One soil with rock at 50 to 90 cm, most often 75. By hand: the profile takes 60 cm for marginal and 100 for suited; under the triangle
// the chance of less than 60 is (60-50)²/((90-50)(75-50)) = 0.1. Slope, water table and water are asked in the same way, at limits read
// from the profile.
func TestEveryRangeCounts(t *testing.T) {
	p := suitability.DefaultProfile()
	limit := func(c suitability.Curve, mark float64) float64 {
		for _, x := range c.Points {
			if x.Score == mark {
				return x.Value
			}
		}
		t.Fatal("the profile has no such limit")
		return 0
	}
	for _, tc := range []struct {
		name string
		give func(c *soils.Component)
		want suitability.Class
	}{
		{"rooting depth", func(c *soils.Component) {
			at := unit.Depth(limit(p.Depth, suitability.MarginalMark))
			c.Restrictions = []soils.Restriction{{Kind: "Lithic bedrock", Top: unit.Some(at + 15), TopLow: unit.Some(at - 10), TopHigh: unit.Some(at + 30)}}
		}, suitability.Unsuited},
		{"slope", func(c *soils.Component) {
			at := limit(p.Slope, suitability.SuitedMark)
			c.Slope = soils.Range[float64]{Low: unit.Some(at - 3), Value: unit.Some(at - 1.5), High: unit.Some(at + 1)}
		}, suitability.Marginal},
		{"water table", func(c *soils.Component) {
			at := unit.Depth(limit(p.WaterTable, suitability.MarginalMark))
			c.Months = []soils.Month{{Month: 2, Layers: []soils.MoistureLayer{{Top: unit.Some(at + 15), TopLow: unit.Some(at - 10), TopHigh: unit.Some(at + 30), Status: "Wet"}}}}
		}, suitability.Unsuited},
	} {
		c := soil(100, 7, 0)
		tc.give(&c)
		s := uncertainty.Of(fieldOf(soils.MapUnit{Key: "1", Components: []soils.Component{c}}), uncertainty.Options{Error: 0.004})
		// slope: (1)²/((4)(2.5)) = 0.1 above the limit; depths: 10²/(40·25) = 0.1 below it
		if got := s.Zones[0].Class.Of(tc.want); math.Abs(got-0.1) > 0.008 {
			t.Errorf("%s: chance of %v is %g, want 0.1", tc.name, tc.want, got)
		}
	}
}
