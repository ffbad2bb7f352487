package web

import (
	"strconv"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/season"
)

// planOptions reads from the record of a run how its lime was planned. What is not there was left at its usual value;
// what cannot be read was written by another program and is taken so too.
func planOptions(p *suitability.Provenance, profile *suitability.Profile) (o limeplan.Options) {
	number := func(s string) float64 { v, _ := strconv.ParseFloat(s, 64); return v }
	for _, x := range p.Options {
		switch x.Name {
		case "lime-ecce":
			o.ECCE = unit.Percent(number(x.Value))
		case "lime-moisture":
			o.Moisture = unit.Percent(number(x.Value))
		case "lime-cap":
			o.Cap = unit.ShortTonsPerAcre(number(x.Value))
		case "lime-months":
			o.Months = int(number(x.Value))
		case "lime-unsuited":
			o.IncludeUnsuited = x.Value == "true"
		case "region":
			if w, err := season.Region(profile, x.Value); err == nil {
				o.Window = &w
			}
		}
	}
	if day, err := season.ParseDay(p.Date); err == nil {
		o.Date = day
	}
	if o.Check(profile) != nil {
		return limeplan.Options{Date: o.Date, Window: o.Window}
	}
	return o
}
