package soils

import (
	"cmp"
	"slices"
	"strings"

	"rootworthy/soils/unit"
)

// UnitAggregate is a map unit in one row: figures by the rules and with the rounding of the agency's own table
// muaggatt, so that the two can be compared. What nobody recorded is missing, zero value or empty.
//
// These figures describe the unit as a whole; averages of a wet and a dry soil describe neither, so no rating is
// made from them.
type UnitAggregate struct {
	SlopeDominant     unit.Opt[float64]       // slopegraddcp: percent slope of the dominant component, 1 decimal
	SlopeMean         unit.Opt[float64]       // slopegradwta: percent, mean by percent of the components, 1 decimal
	BedrockMin        unit.Opt[unit.Depth]    // brockdepmin: shallowest bedrock
	WetMin            unit.Opt[unit.Depth]    // wtdepannmin: shallowest free water of the year
	WetMinAprilToJune unit.Opt[unit.Depth]    // wtdepaprjunmin
	FloodingDominant  Frequency               // flodfreqdcd
	FloodingHighest   Frequency               // flodfreqmax
	PondingPercent    unit.Opt[unit.Percent]  // pondfreqprs: percent of the unit that ponds at all, whole number
	Water             [4]unit.Opt[unit.Water] // aws025wta, aws050wta, aws0100wta, aws0150wta: to WaterDepths, 0.1 mm
	Drainage          DrainageClass           // drclassdcd
	DrainageWettest   DrainageClass           // drclasswettest
	HydrologicGroup   string                  // hydgrpdcd
	HydricPercent     unit.Opt[unit.Percent]  // hydclprs: percent of the unit rated hydric
	Irrigated         Capability              // iccdcd, iccdcdpct
	Nonirrigated      Capability              // niccdcd, niccdcdpct
}

// Capability is a land capability class and the percent of the unit in it. An empty class may hold the largest percent.
type Capability struct {
	Class   string                 // "1" … "8"; empty when not recorded
	Percent unit.Opt[unit.Percent] // whole number; missing when the unit has no component with a percent
}

// WaterDepths lists the depths of the fields Water, in centimetres.
func WaterDepths() [4]unit.Depth { return [4]unit.Depth{25, 50, 100, 150} }

// Aggregate gathers a map unit into one row.
// Source: each rule reproduces the agency's muaggatt on real surveys (tests of package ssurgo); minima and maxima, and
// the dominant flooding class, look only at components of 15 percent or more, all else at all components.
func Aggregate(u *MapUnit) UnitAggregate {
	a := UnitAggregate{
		SlopeMean:         unitSlope(u),
		BedrockMin:        substantialMin(u, bedrockDepth),
		WetMin:            substantialMin(u, wetDepth(AllMonths)),
		WetMinAprilToJune: substantialMin(u, wetDepth(AprilToJune)),
		PondingPercent:    rounded(unitShare(u, ponds), 0),
		HydricPercent:     unitShare(u, func(c *Component) bool { return strings.EqualFold(c.Hydric, "Yes") }),
	}
	if c, ok := u.DominantComponent(); ok {
		a.SlopeDominant = rounded(c.Slope.Value, 1)
	}
	a.FloodingDominant, _, _ = DominantCondition(u, (*Component).Substantial, floodingClass, cmp.Compare)
	a.Drainage, _, _ = DominantCondition(u, nil, func(c *Component) DrainageClass { return c.Drainage }, laterDrainage)
	a.HydrologicGroup, _, _ = DominantCondition(u, nil, func(c *Component) string { return c.HydrologicGroup }, laterGroup)
	a.Irrigated = capability(u, func(c *Component) string { return c.Irrigated })
	a.Nonirrigated = capability(u, func(c *Component) string { return c.Nonirrigated })
	for i := range u.Components {
		if c := &u.Components[i]; c.Substantial() {
			a.FloodingHighest = max(a.FloodingHighest, floodingClass(c))
			a.DrainageWettest = wetter(a.DrainageWettest, c.Drainage)
		}
	}
	for i, depth := range WaterDepths() {
		a.Water[i] = unitWater(u, depth)
	}
	return a
}

// unitShare is [UnitSum], missing when no component has a percent.
func unitShare(u *MapUnit, is func(*Component) bool) unit.Opt[unit.Percent] {
	if _, ok := u.DominantComponent(); !ok {
		return unit.None[unit.Percent]()
	}
	return unit.Some(UnitSum(u, is))
}

// unitSlope is the mean slope by percent, as slopegradwta rounds it.
func unitSlope(u *MapUnit) unit.Opt[float64] {
	mean, _ := UnitMean(u, func(c *Component) unit.Opt[float64] { return c.Slope.Value })
	return rounded(mean, 1)
}

// unitWater is the mean over components of the water to depth, to the agency's 0.01 cm.
func unitWater(u *MapUnit, depth unit.Depth) unit.Opt[unit.Water] {
	mean, _ := UnitMean(u, func(c *Component) unit.Opt[unit.Water] {
		w, _ := AvailableWater(c.Horizons, depth)
		return w
	})
	return rounded(mean, 1)
}

// rounded rounds as the agency does; what is missing stays missing.
func rounded[T ~float64](v unit.Opt[T], decimals int) unit.Opt[T] {
	if x, ok := v.Get(); ok {
		return unit.Some(T(roundHalfAway(float64(x), decimals)))
	}
	return v
}

// substantialMin is the least depth over the components of 15 percent or more.
func substantialMin(u *MapUnit, of func(*Component) unit.Opt[unit.Depth]) unit.Opt[unit.Depth] {
	var least unit.Opt[unit.Depth]
	for i := range u.Components {
		if c := &u.Components[i]; c.Substantial() {
			least = shallower(least, of(c))
		}
	}
	return least
}

// bedrockDepth is the top of the shallowest bedrock; missing without one, since the zero restriction has no top.
func bedrockDepth(c *Component) unit.Opt[unit.Depth] {
	// by the rows of restrictions alone, as muaggatt does: a rock horizon without a row does not count here
	r, _ := c.Shallowest(Restriction.Bedrock)
	return r.Top
}

// wetDepth asks a component for its shallowest wet layer in these months. One of which nothing is described and one
// without a wet layer are alike here: neither has a depth to be the least.
func wetDepth(in MonthSet) func(*Component) unit.Opt[unit.Depth] {
	return func(c *Component) unit.Opt[unit.Depth] {
		d, _ := c.ShallowestWet(in)
		return d
	}
}

// floodingClass leaves the duration out, which the agency's aggregate does not know.
func floodingClass(c *Component) Frequency {
	f, _ := c.Flooding()
	return f
}

func ponds(c *Component) bool {
	f, _ := c.Ponding()
	// not recorded is below Never and so is no ponding
	return f > Never
}

// wetter is the wetter of two classes; what is not recorded gives way to any class.
func wetter(a, b DrainageClass) DrainageClass {
	if a == DrainageUnknown || (b != DrainageUnknown && b < a) {
		return b
	}
	return a
}

// laterDrainage orders classes as the survey's domain does, from excessively drained to subaqueous, nothing recorded first.
func laterDrainage(a, b DrainageClass) int {
	if a == DrainageUnknown || b == DrainageUnknown {
		return cmp.Compare(a, b)
	}
	return cmp.Compare(b, a)
}

// hydrologicGroups lists the groups in the order of the survey's domain.
var hydrologicGroups = []string{"A", "B", "C", "D", "A/D", "B/D", "C/D"}

// laterGroup orders groups as the domain does; one that is not in it, or not recorded, comes before all. Ties between such go by text, so
// that the order of the rows never shows.
func laterGroup(a, b string) int {
	at := func(s string) int { return slices.Index(hydrologicGroups, strings.ToUpper(s)) }
	return cmp.Or(cmp.Compare(at(a), at(b)), cmp.Compare(a, b))
}

// capability is the class of the largest percent, which may be "not recorded", with its percent in whole numbers.
func capability(u *MapUnit, class func(*Component) string) Capability {
	best, percent, ok := DominantCondition(u, nil, class, strings.Compare)
	if !ok {
		return Capability{}
	}
	return Capability{best, unit.Some(unit.Percent(roundHalfAway(float64(percent), 0)))}
}
