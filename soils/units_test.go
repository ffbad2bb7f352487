package soils

import (
	"math"
	"testing"

	"rootworthy/soils/unit"
)

// component is one with what the worked units need, its horizons in the notation of horizonsOf.
func component(t *testing.T, percent float64, name string, d DrainageClass, group, horizons string) Component {
	return Component{Name: name, Percent: unit.Some(unit.Percent(percent)), Drainage: d, HydrologicGroup: group, Horizons: horizonsOf(t, horizons)}
}

// unitCase is a map unit written out with what is published of it (aws, drainage, group) or computed from it.
type unitCase struct {
	unit               MapUnit
	clay, cec, ph      float64 // 0-20 cm; pH of the dominant component
	aws                [4]float64
	drainage, wettest  DrainageClass
	group              string
	phUnit, acidity    float64 // pH of the unit, arithmetic and of mean acidity; 0 when not checked
	cover100, bedrock  float64 // percent × depth with a pH, 0-100 cm; shallowest bedrock (NaN: none)
	shallowestDominant float64
}

// Three map units as the survey has them. Sources: SSURGO AR017 version 22 (565269 Hebert and Crowley silt loams, 565275
// Alluvial land) and MO181 version 22 (2502333 Alred-Gatewood complex); published values from their muaggatt, the rest
// computed from the same figures by a separately written program. Organic matter is left out of the inputs.
func unitCases(t *testing.T) []unitCase {
	alred := component(t, 45, "Alred", WellDrained, "C", "0-2 4.3/-/-/0.01; 2-15 5.4/7.8/-/0.14; 15-27 5.3/8.7/-/0.17; 27-78 5.3/21.2/-/0.1; 78-200 5.4/63.3/-/0.08")
	alred.Restrictions = []Restriction{{Kind: "Strongly contrasting textural stratification", Top: unit.Some[unit.Depth](78)}}
	gatewood := component(t, 35, "Gatewood", ModeratelyWellDrained, "D", "0-2 4.3/-/-/0.01; 2-5 5.4/14/-/0.23; 5-13 5.6/13/7/0.23; 13-91 7/70/36.9/0.1; 91-200 -/-/-/-")
	gatewood.Restrictions = []Restriction{{Kind: "Lithic bedrock", Top: unit.Some[unit.Depth](91)}}
	gasconade := component(t, 10, "Gasconade", SomewhatExcessivelyDrained, "D", "0-10 7.3/41.7/34.7/0.12; 10-33 7.5/40.9/33.2/0.07; 33-200 -/-/-/-")
	gasconade.Restrictions = []Restriction{{Kind: "Lithic bedrock", Top: unit.Some[unit.Depth](33)}}
	riverwash := component(t, 19, "Riverwash", ExcessivelyDrained, "", "0-203 7.2/3.5/-/0.04")
	riverwash.Kind = "Miscellaneous area"
	return []unitCase{
		{MapUnit{Symbol: "HC", Components: []Component{
			component(t, 50, "Hebert", SomewhatPoorlyDrained, "C", "0-25 6.2/18.5/9.5/0.18; 25-94 5.8/28/14.5/0.18; 94-183 6.5/19/14.5/0.18"),
			component(t, 40, "Crowley", SomewhatPoorlyDrained, "D", "0-41 6.8/18.5/7/0.22; 41-74 6.5/42.5/18/0.2; 74-152 6.5/41/19/0.21"),
			component(t, 5, "Aqualfs", DrainageUnknown, "", ""),
			component(t, 5, "Perry", DrainageUnknown, "", "")}},
			18.500, 8.389, 6.200, [4]float64{4.94, 9.81, 19.37, 29.04}, SomewhatPoorlyDrained, SomewhatPoorlyDrained, "C",
			6.467, 6.376, 90, math.NaN(), math.NaN()},
		{MapUnit{Symbol: "Mu", Components: []Component{
			component(t, 21, "Commerce", SomewhatPoorlyDrained, "C", "0-15 6.6/42/26.2/0.17; 15-56 6.8/16.2/13.6/0.21; 56-86 7/33/25.8/0.2; 86-122 7.8/33.6/25.8/0.22; 122-203 7.8/42.1/31.6/0.21"),
			component(t, 20, "Crevasse", ExcessivelyDrained, "A", "0-15 7/5/3.7/0.04; 15-203 7/0.3/0.3/0.04"),
			component(t, 20, "Newellton", SomewhatPoorlyDrained, "D", "0-15 6.5/41.1/37.3/0.14; 15-50 6.7/41.1/35.8/0.14; 50-63 7/15/12.1/0.21; 63-203 7.4/10/8.4/0.21"),
			component(t, 20, "Sharkey", PoorlyDrained, "D", "0-25 6.8/48.6/58.7/0.19; 25-76 7/76.1/50/0.17; 76-104 8.4/76.9/50.5/0.16; 104-213 7.3/75.5/49.7/0.17"),
			riverwash}},
			26.836, 30.291, 6.650, [4]float64{3.02, 6.06, 12.76, 19.59}, SomewhatPoorlyDrained, PoorlyDrained, "D",
			6.835, 6.772, 100, math.NaN(), math.NaN()},
		{MapUnit{Symbol: "73321", Components: []Component{alred, gatewood, gasconade,
			component(t, 10, "Goss", WellDrained, "D", "0-8 5.8/9.8/5.4/0.16; 8-46 5.8/9.2/5/0.11; 46-152 4.7/50.7/-/0.03; 152-200 6/70/36.1/0.07")}},
			21.063, 20.445, 5.265, [4]float64{3.45, 5.81, 9.44, 11.39}, WellDrained, ModeratelyWellDrained, "D",
			5.765, 5.189, 90.15, 91, 78},
	}
}

// Every figure was worked out by hand; one unit at a time, so that a wrong rule is seen by the unit it shows in.
func TestMapUnitsWrittenOut(t *testing.T) {
	for _, c := range unitCases(t) {
		t.Run(c.unit.Symbol, func(t *testing.T) {
			u, top := &c.unit, Window{0, 20}
			clay, _ := UnitWindowMean(u, top, clayOf)
			near(t, "clay 0-20", clay, c.clay, 0.0005)
			cec, _ := UnitWindowMean(u, top, cec7Of)
			near(t, "CEC-7 0-20", cec, c.cec, 0.0005)
			ph, _ := UnitWindowMean(u, top, PHOf)
			near(t, "pH 0-20", ph, c.phUnit, 0.0005)
			acid, _ := UnitMeanPH(u, top)
			near(t, "pH 0-20 of mean acidity", acid, c.acidity, 0.0005)
			near(t, "cover of pH 0-100", unit.Some(UnitCover(u, Window{0, 100}, PHOf)), c.cover100, 0.005)
			dominant, _ := u.DominantComponent()
			ph, _ = WindowMean(dominant.Horizons, top, PHOf)
			near(t, "pH 0-20 of the dominant component", ph, c.ph, 0.0005)
			r, _ := dominant.Shallowest(nil)
			near(t, "restriction of the dominant component", r.Top, c.shallowestDominant, 0)
			a := Aggregate(u)
			for i, want := range c.aws {
				near(t, "aws in mm", a.Water[i], 10*want, 0.1+1e-9) // the agency rounds exact halves in binary
			}
			near(t, "bedrock of components of 15 percent or more", a.BedrockMin, c.bedrock, 0)
			if a.Drainage != c.drainage || a.DrainageWettest != c.wettest || a.HydrologicGroup != c.group {
				t.Errorf("drainage %v, wettest %v, group %q; want %v, %v, %q",
					a.Drainage, a.DrainageWettest, a.HydrologicGroup, c.drainage, c.wettest, c.group)
			}
		})
	}
}
