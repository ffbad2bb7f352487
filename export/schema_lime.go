package export

import (
	"slices"
	"strings"

	"rootworthy/soils/unit"
)

// LimeColumns lists the columns of the lime list: those of the zone table that concern lime, then what is spread.
func LimeColumns() []Column { return columns(limeListEntries()) }

// limeFromZone names the columns that the lime list shares with the zone table.
const limeFromZone = "zone_id field_id field_name zone area_ac area_ha mukey musym map_unit class class_today " +
	"ph_surface ph_subsoil ph_target lime_basis lime_low_st_ac lime_st_ac lime_high_st_ac lime_bound lime_t_ha " +
	"lime_quality lime_error_pct ph_basis tests tests_newest surface_ph_survey subsoil_ph_survey"

// limeListEntries picks its first columns from the zone table by name, so that each is declared once.
func limeListEntries() []entry[sayable] {
	all := zoneEntries()
	var out []entry[sayable]
	for _, name := range strings.Fields(limeFromZone) {
		// A name that is not there would panic here; a test writes the list, so it cannot be shipped.
		i := slices.IndexFunc(all, func(e entry[sayable]) bool { return e.Name == name })
		out = append(out, all[i])
	}
	return append(out, spreadEntries()...)
}

// spreadEntries are what a spreader and a calendar need.
func spreadEntries() []entry[sayable] {
	return []entry[sayable]{
		textual("method", "how the figure was found", func(z sayable) Value { return say(z.say.Method, z.Zone) }),
		numeric("product_st_ac", "short ton per acre", "product as spread, all passes together, rounded for the spreader", func(z sayable) Value { return maybeAs(z.Lime.Product, unit.AreaRate.ShortTonsPerAcre) }),
		numeric("product_kg", "kg", "product over the zone, rounded to whole kilograms", func(z sayable) Value {
			if m, ok := z.Lime.ProductMass.Get(); ok {
				// Whole kilograms: a spreader's scale shows no finer, and pounds follow from it without loss.
				return number(float64(m), 0)
			}
			return Value{}
		}),
		numeric("order_st", "short ton", "the same in short tons of 2,000 lb, to order by", func(z sayable) Value { return maybeAs(z.Lime.ProductMass, unit.Mass.ShortTons) }),
		counted("passes", "", "yearly passes on sod; 0 when nothing is spread, empty when there is no figure", func(z sayable) Value {
			// No figure and no pass are two answers.
			if !z.Lime.Likely.Has() {
				return Value{}
			}
			return whole(z.Lime.Passes)
		}),
		counted("wait_months", "month", "from the first pass until the last has worked", func(z sayable) Value {
			// Nothing is spread, so nothing is waited for.
			if z.Lime.WaitMonths == 0 {
				return Value{}
			}
			return whole(z.Lime.WaitMonths)
		}),
		textual("ready_date", "day by which the last pass has had time to work; test before sowing", func(z sayable) Value { return text(z.Lime.Ready) }),
		textual("window", "earliest sowing window that this leaves: first day, stroke, last day", func(z sayable) Value { return text(z.Lime.Window) }),
		textual("why", "why the figure is what it is, or why there is none", func(z sayable) Value { return say(z.say.Lime, z.Zone) }),
	}
}
