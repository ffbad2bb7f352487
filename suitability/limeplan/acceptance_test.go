package limeplan_test

import (
	"math"
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// horizon is a layer of a made profile: survey texture code, pH, and available water 0.14 as nothing else is said.
func horizon(top, bottom float64, texture string, pH float64) soils.Horizon {
	return soils.Horizon{Top: unit.Some(unit.Depth(top)), Bottom: unit.Some(unit.Depth(bottom)), Texture: texture,
		PH: soils.Range[unit.PH]{Value: unit.Some(unit.PH(pH))}, AWC: unit.Some(0.14),
		EC: unit.Some(unit.Conductivity(0)), SAR: unit.Some(0.0)}
}

// soil is a well drained component without flooding, ponding or wet layers, of slope 3.
func soil(percent float64, horizons ...soils.Horizon) soils.Component {
	c := soils.Component{Name: "made", Percent: unit.Some(unit.Percent(percent)), Kind: "Series", Drainage: soils.WellDrained,
		Slope: soils.Range[float64]{Value: unit.Some(3.0)}, Horizons: horizons}
	for m := 1; m <= 12; m++ {
		c.Months = append(c.Months, soils.Month{Month: m, Flooding: soils.Never, Ponding: soils.Never,
			Layers: []soils.MoistureLayer{{Top: unit.Some(unit.Depth(0)), Bottom: unit.Some(unit.Depth(150)), Status: "Moist"}}})
	}
	return c
}

// with changes a copy of a component.
func with(c soils.Component, change func(*soils.Component)) soils.Component {
	change(&c)
	return c
}

// want is what an acceptance case asks for; lime in short tons an acre.
type want struct {
	class, today         suitability.Class
	limiting, limitToday suitability.Code
	correctable, ofToday suitability.Correctable
	score                float64
	low, likely, high    float64 // with unsuited ground limed
	withheld             bool    // without that wish there is none
}

// The five cases worked by hand in the rules of the rating. Tolerance as printed there, 1e-4.
func TestAcceptanceCases(t *testing.T) {
	organic := horizon(0, 3, "SPM", 4.3)
	organic.Name = "Oi"
	cases := map[string]struct {
		unit []soils.Component
		want want
	}{
		"1 acid on top, limed it is suited": {
			[]soils.Component{soil(100, horizon(0, 15, "SL", 5.4), horizon(15, 150, "SCL", 5.6))},
			want{suitability.Suited, suitability.Unsuited, "", suitability.SurfacePH, suitability.NotLimited, suitability.Yes,
				76, 0.6752, 1.3504, 2.7007, false}},
		"2 two wet soils outweigh a good one": {
			[]soils.Component{
				soil(40, horizon(0, 150, "SL", 5.5)),
				with(soil(35, horizon(0, 150, "L", 6.0)), func(c *soils.Component) { c.Drainage = soils.SomewhatPoorlyDrained }),
				with(soil(25), func(c *soils.Component) { c.Drainage = soils.PoorlyDrained })},
			want{suitability.Unsuited, suitability.Unsuited, suitability.Drainage, suitability.Drainage, suitability.No, suitability.No,
				16.6667, 0.5518, 1.1035, 2.2070, true}},
		"3 litter on top, acid below": {
			[]soils.Component{
				soil(85, organic, horizon(3, 18, "L", 5.8), horizon(18, 55, "CL", 5.7), horizon(55, 153, "CL", 5.4)),
				with(soil(15), func(c *soils.Component) { c.Drainage = soils.DrainageUnknown })},
			want{suitability.Marginal, suitability.Unsuited, suitability.SubsoilPH, suitability.SurfacePH, suitability.Partly, suitability.Yes,
				69.6571, 0.6316, 1.2632, 2.5265, false}},
		"4 rock under most of it": {
			[]soils.Component{
				with(soil(60, horizon(0, 28, "CL", 6.8)), func(c *soils.Component) {
					c.Restrictions = []soils.Restriction{{Kind: "Lithic bedrock", Top: unit.Some(unit.Depth(28))}}
				}),
				soil(40, horizon(0, 30, "CL", 6.4), horizon(30, 150, "CL", 6.0))},
			want{suitability.Unsuited, suitability.Unsuited, suitability.Depth, suitability.Depth, suitability.No, suitability.No,
				18.6667, 0.0479, 0.0958, 0.1917, true}},
		"5 a tie goes to the worse": {
			[]soils.Component{
				soil(50, horizon(0, 150, "SL", 6.6)),
				with(soil(50, horizon(0, 30, "CL", 5.0), horizon(30, 150, "CL", 5.6)), func(c *soils.Component) {
					c.Drainage, c.HydrologicGroup = soils.ModeratelyWellDrained, "C/D"
					c.Months[1].Layers = append(c.Months[1].Layers, soils.MoistureLayer{Top: unit.Some(unit.Depth(60)), Status: "Wet"})
				})},
			want{suitability.Marginal, suitability.Unsuited, suitability.WaterTable, suitability.SurfacePH, suitability.No, suitability.Yes,
				46, 0.8168, 1.6335, 3.2670, false}},
	}
	p := suitability.DefaultProfile()
	for name, tc := range cases {
		t.Run(name, func(t *testing.T) {
			r := p.RateUnit(soils.MapUnit{Components: tc.unit}, suitability.RateOptions{})
			w := tc.want
			if r.Class != w.class || r.ClassToday != w.today || r.Limiting != w.limiting || r.LimitingToday != w.limitToday ||
				r.Correctable != w.correctable || r.CorrectableToday != w.ofToday {
				t.Errorf("got %v/%v, %q/%q, %q/%q; want %+v", r.Class, r.ClassToday, r.Limiting, r.LimitingToday, r.Correctable, r.CorrectableToday, w)
			}
			near(t, "score", r.Score.Or(-1), w.score)
			all := limeplan.Plan(p, r, 1, limeplan.Options{IncludeUnsuited: true})
			for _, x := range []struct {
				name string
				got  unit.Opt[unit.AreaRate]
				want float64
			}{{"low", all.Low, w.low}, {"likely", all.Likely, w.likely}, {"high", all.High, w.high}} {
				near(t, x.name, x.got.Or(-1).ShortTonsPerAcre(), x.want)
			}
			l := limeplan.Plan(p, r, 1, limeplan.Options{})
			if l.Likely.Has() == w.withheld || w.withheld != (l.Why == suitability.WhyZoneUnsuited) {
				t.Errorf("without the wish to lime unsuited ground: %+v", l)
			}
		})
	}
}

// near allows 1e-4, the tolerance of the acceptance cases: they are printed with four decimals.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-4) {
		t.Errorf("%s = %.5f, want %.4f", what, got, want)
	}
}

// The figures between the lines of the acceptance cases.
func TestAcceptanceDetails(t *testing.T) {
	p := suitability.DefaultProfile()
	organic := horizon(0, 3, "SPM", 4.3)
	organic.Name = "Oi"
	r := p.RateUnit(soils.MapUnit{Components: []soils.Component{
		soil(85, organic, horizon(3, 18, "L", 5.8), horizon(18, 55, "CL", 5.7), horizon(55, 153, "CL", 5.4))}}, suitability.RateOptions{})
	c := r.Components[0]
	near(t, "surface pH of case 3", c.Findings[6].Value.Or(0), 5.775)
	near(t, "subsoil pH of case 3", c.Findings[5].Value.Or(0), 5.4943)
	if c.OrganicSkipped != 3 {
		t.Errorf("%g cm of litter skipped, want 3", float64(c.OrganicSkipped))
	}
	near(t, "rated share of case 3", r.Shares.Rated, 85)
	if r.Confidence.Level != suitability.Medium {
		t.Errorf("confidence %+v, want medium: 85 percent win", r.Confidence)
	}
}
