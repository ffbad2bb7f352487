package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// unitPH and depth shorten what the made profiles below are full of.
func unitPH(v float64) unit.PH { return unit.PH(v) }

func depth(v float64) unit.Opt[unit.Depth] { return unit.Some(unit.Depth(v)) }

// layer is a horizon of a made profile, with enough recorded for every criterion.
func layer(top, bottom float64, texture string, pH float64) soils.Horizon {
	return soils.Horizon{Name: "A", Master: "A", Top: depth(top), Bottom: depth(bottom), Texture: texture,
		PH: soils.Range[unit.PH]{Value: unit.Some(unit.PH(pH))}, AWC: unit.Some(0.14),
		EC: unit.Some(unit.Conductivity(0)), SAR: unit.Some(0.0)}
}

// good is a component that every criterion finds suited but for what change does to it: deep, well drained, pH 6.9.
func good(percent float64, change ...func(*soils.Component)) soils.Component {
	c := soils.Component{Name: "made", Percent: unit.Some(unit.Percent(percent)), Kind: "Series", Drainage: soils.WellDrained,
		Order: "Ultisols", Slope: soils.Range[float64]{Value: unit.Some(2.0)},
		Horizons: []soils.Horizon{layer(0, 20, "SL", 6.9), layer(20, 155, "CL", 6.9)}}
	for m := 1; m <= 12; m++ {
		c.Months = append(c.Months, soils.Month{Month: m, Flooding: soils.Never, Ponding: soils.Never,
			Layers: []soils.MoistureLayer{{Top: depth(0), Bottom: depth(155), Status: "Moist"}}})
	}
	for _, f := range change {
		f(&c)
	}
	return c
}

// wetFrom adds free water from a depth on in a month, 1…12; the water table is looked for from November to June alone.
func wetFrom(cm float64, month int) func(*soils.Component) {
	return func(c *soils.Component) {
		c.Months[month-1].Layers = append(c.Months[month-1].Layers, soils.MoistureLayer{Top: depth(cm), Bottom: depth(155), Status: "Wet"})
	}
}

// drains gives the component another drainage class; its wet layers stay, so the two may disagree.
func drains(d soils.DrainageClass) func(*soils.Component) {
	return func(c *soils.Component) { c.Drainage = d }
}

// stops adds a restriction, with a top alone, as many surveys have them.
func stops(kind string, cm float64) func(*soils.Component) {
	return func(c *soils.Component) {
		c.Restrictions = append(c.Restrictions, soils.Restriction{Kind: kind, Top: depth(cm)})
	}
}

// acid gives both horizons a pH. The upper one ends at 20 cm, so surface and subsoil windows lie in one horizon each.
func acid(surface, subsoil float64) func(*soils.Component) {
	return func(c *soils.Component) {
		c.Horizons[0].PH.Value = unit.Some(unit.PH(surface))
		c.Horizons[1].PH.Value = unit.Some(unit.PH(subsoil))
	}
}

// floods is flooding in April; one month is enough for the highest class of the year.
func floods(f soils.Frequency, duration string) func(*soils.Component) {
	return func(c *soils.Component) { c.Months[3].Flooding, c.Months[3].FloodDuration = f, duration }
}

// unitOf is a map unit of these components; their percents need not sum to a hundred.
func unitOf(components ...soils.Component) soils.MapUnit {
	return soils.MapUnit{Key: "1", Symbol: "MaB", Name: "Made loam", Components: components}
}

// madeUnit has something of every kind of limit: water, acidity above and below, a pan, long floods.
func madeUnit() soils.MapUnit {
	return unitOf(good(40, drains(soils.PoorlyDrained), wetFrom(20, 2)), good(35, acid(5.2, 5.3)),
		good(15, stops("Fragipan", 55)), good(10, floods(soils.Occasional, "Long")))
}

// rate1 rates one component that is all of its unit.
func rate1(change ...func(*soils.Component)) ComponentRating {
	return DefaultProfile().RateUnit(unitOf(good(100, change...)), RateOptions{}).Components[0]
}
