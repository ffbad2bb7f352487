package taskdata

import (
	"fmt"
	"slices"
	"strings"
)

// Form is the way in which a file says what goes where.
type Form uint8

// The forms.
const (
	Grid2    Form = iota // cells that hold rates: what most controllers take
	Grid1                // cells that hold the code of a rate, for controllers that refuse Grid2
	Polygons             // outlines of zones: exact and small, but many terminals draw only grids
)

// Options tunes [NewPlan]. The zero value makes version 3.3, grids of rates, one task a field, for the first pass.
type Options struct {
	Version        int      // of the task data: 3 or 4; 0 means 3, which terminals of version 4 read too
	Form           Form     // how rates are laid out
	PerFarm        bool     // one task for all fields of a farm in place of one a field
	Fields         []string // ids of the fields to take; empty means all
	Pass           int      // which yearly pass, from 1; 0 means the first; [AllPasses] spreads everything at once
	Product        string   // what is spread; "" means ground limestone
	Customer, Farm string   // names where the run has none; terminals may hide tasks without them
	Display        string   // unit in which a terminal shows rates: lb/ac, st/ac, t/ha or kg/ha; "" means lb/ac
	UntestedReason string   // why rates from a survey alone may be spread; "" refuses them
	Machine        Machine
	MaxCells       int    // longest side of a grid; 0 means 350
	Workers        int    // goroutines; 0 means one per CPU
	Software       string // version of the program, for the head of the file
}

// AllPasses as Options.Pass puts all yearly passes into one.
const AllPasses = -1

// filled puts in what the zero values stand for.
func (o Options) filled() Options {
	o.Machine = o.Machine.filled()
	for _, s := range []struct {
		to    *string
		value string
	}{{&o.Product, "Ground limestone"}, {&o.Customer, "Customer"}, {&o.Farm, "Farm"}, {&o.Display, "lb/ac"}, {&o.Software, "unknown"}} {
		if *s.to == "" {
			*s.to = s.value
		}
	}
	if o.Version == 0 {
		o.Version = 3
	}
	if o.Pass == 0 {
		o.Pass = 1
	}
	if o.MaxCells == 0 {
		o.MaxCells = defaultMaxCells
	}
	return o
}

// Check says what is out of range.
func (o Options) Check() error {
	switch {
	case o.Version != 0 && o.Version != 3 && o.Version != 4:
		return fmt.Errorf("task data of version %d is not known; give 3 or 4", o.Version)
	case o.Form > Polygons:
		return fmt.Errorf("zones must be grid2, grid1 or polygons")
	case o.Pass < AllPasses:
		return fmt.Errorf("pass %d is not possible; count from 1", o.Pass)
	case o.MaxCells != 0 && (o.MaxCells < 2 || o.MaxCells > mostMaxCells):
		return fmt.Errorf("%d cells a side are not possible; give from 2 to %d", o.MaxCells, mostMaxCells)
	case o.Display != "" && !slices.Contains(Displays(), o.Display):
		return fmt.Errorf("rates cannot be shown in %q; choose from %s", o.Display, strings.Join(Displays(), ", "))
	// The strip is marked in cells, which polygons do not have.
	case o.Form == Polygons && o.Machine.Headland > 0:
		return fmt.Errorf("polygon zones have no headland strip; use a grid, or no headland")
	}
	return o.Machine.Check()
}

// Displays lists the units in which a terminal can be told to show rates.
func Displays() []string {
	var out []string
	for _, d := range displays() {
		out = append(out, d.name)
	}
	return out
}

// display is a unit for the eye: shown = milligrams × scale.
type display struct {
	name, scale, decimals string
	perMilligram          float64
}

// displays holds the scales as plain decimals, the only form that terminals read.
// Source: exact from 1 lb = 0.45359237 kg and 1 acre = 4046.8564224 m².
func displays() []display {
	return []display{
		{"lb/ac", "0.0089217912", "0", 4046.8564224 / 453592.37},
		{"st/ac", "0.0000044609", "2", 4046.8564224 / 907184740},
		{"t/ha", "0.00001", "2", 1e-5},
		{"kg/ha", "0.01", "0", 1e-2},
	}
}

// display is the unit that was asked for; the first of the list where it is not known.
func (o Options) display() display {
	all := displays()
	return all[max(0, slices.IndexFunc(all, func(d display) bool { return d.name == o.Display }))]
}
