package nutrientplan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
)

// Options tunes [Make]. The zero value has no table, so that only a laboratory's own advice gives rates.
type Options struct {
	Table           *nutrient.Table         // nil means none
	Levels          []*nutrient.Table       // whose levels to hold are told beside the rates; the table's own always are
	Stage           nutrient.Stage          // "" means the year of sowing
	Yield           unit.Opt[unit.AreaRate] // hay expected in a year; missing means no removal is worked out
	Products        []Product               // in the order in which they are counted; what one brings of another nutrient is taken off
	Seed            unit.Mass               // bare seed to be sown in all, without its coating, for the molybdenum on it; 0 means none is worked out
	SeedTreated     bool                    // the seed comes with molybdenum on it
	IncludeUnsuited bool                    // fertilize unsuited ground too
}

// mostYield is beyond every hay crop: 20 short tons an acre a year.
const mostYield = 20 * unit.ShortTonPerAcre

// Check says all that is wrong with the options.
func (o Options) Check() error {
	var all []error
	seen := map[string]bool{}
	for _, p := range o.Products {
		// All faults at once: a command line with three products is corrected in one go.
		all = append(all, p.Check())
		if seen[p.Name] || strings.TrimSpace(p.Name) == "" {
			all = append(all, fmt.Errorf("product %q has no name of its own; give every product one", p.Name))
		}
		// products are told apart by name in zones, totals and the order
		seen[p.Name] = true
	}
	if y, ok := o.Yield.Get(); ok && !(y >= 0 && y <= mostYield) {
		all = append(all, fmt.Errorf("a yield of %.4g short tons an acre is not possible; give one from 0 to 20", y.ShortTonsPerAcre()))
	}
	if o.Stage != "" && !slices.Contains(nutrient.Stages(), o.Stage) {
		all = append(all, fmt.Errorf("%q is no stage; it is one of %q", o.Stage, nutrient.Stages()))
	}
	// asked this way round, NaN is refused too
	if !(o.Seed >= 0) {
		all = append(all, fmt.Errorf("%g kg of seed is not possible", float64(o.Seed)))
	}
	return errors.Join(all...)
}

// stage returns the stage in force.
func (o Options) stage() nutrient.Stage {
	if o.Stage == "" {
		return nutrient.Establish
	}
	return o.Stage
}
