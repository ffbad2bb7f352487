package soils

import "rootworthy/soils/unit"

// Component is one named soil within a map unit. It has a percent of it but no place of its own.
type Component struct {
	Key                     string                 // cokey; changes every year, for joining only
	Name                    string                 // compname
	Percent                 unit.Opt[unit.Percent] // comppct_r
	Kind                    string                 // compkind: Series, Miscellaneous area, …; empty for many minor components
	Major                   bool                   // majcompflag
	Slope                   Range[float64]         // slope, percent
	Drainage                DrainageClass          // drainagecl
	HydrologicGroup         string                 // hydgrp: A … D, A/D, B/D, C/D; empty when not recorded
	Hydric                  string                 // hydricrating: Yes, No, Unranked; empty when not recorded
	Order                   string                 // taxorder, e.g. Ultisols; empty when not recorded
	Nonirrigated, Irrigated string                 // capability class nirrcapcl, irrcapcl
	Horizons                []Horizon              // by top depth
	Restrictions            []Restriction          // by top depth, then kind
	Months                  []Month                // by month
}

// Miscellaneous says whether the component is a miscellaneous area (water, pits, rock outcrop): not soil, not rated.
func (c Component) Miscellaneous() bool { return c.Kind == "Miscellaneous area" }

// Range is a value with the low and high of the range the survey expects. Each may be missing. It is a judgement
// of the surveyors, not a confidence interval.
type Range[T any] struct{ Low, Value, High unit.Opt[T] }
