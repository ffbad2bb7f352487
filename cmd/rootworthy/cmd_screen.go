package main

import (
	"context"
	"errors"

	"github.com/spf13/pflag"
)

const screenHelp = `  rootworthy screen fields.geojson --survey AR017.zip --out run
  rootworthy screen farm.zip --survey AR017 --survey AR041 --state GA \
             --region "coastal plain" --date 2026-11-25 --out run
  rootworthy screen --out run --explain F2/1

Cuts the fields into zones by soil, rates each zone, says what limits it, and
plans its lime. Writes zones.geojson, fields.geojson, fields.csv, lime.csv,
reasons.jsonl and run.json into the folder --out.

Survey: export (folder, zip), GeoPackage, SQLite, polygons or a raster with map
unit keys; several --survey make one; "survey check PATH" says what it found
  --tables PATH        tables for a map without; --units-key NAME its key column
  --elevation DEM.tif  measured slopes; --elevation-unit ft, --terrain-notes
Fields: GeoJSON, shapefile, GeoPackage, FlatGeobuf, KML, GML, task data, or zipped
  --id PROPERTY        property that holds the field id
  --customer PROPERTY  property that holds the owner; --farm PROPERTY likewise
  --exclude FILE       ground to cut out: set-backs, waters (may be repeated)
  --layer NAME         which layer, where a zip of fields holds several
  --crs EPSG:n         coordinate system of the fields, if their file has none
  --profile FILE       crop profile in place of the built-in one
Soil tests: they beat the survey, zone by zone
  --tests FILE         a laboratory's file (may be repeated); see tests check
  --mapping FILE       what the file does not say (tests check --save-mapping)
  --lime-method NAME   nc-mehlich, georgia-lbc …: see rootworthy lime --help
  --interpolate kriging  pH and lime of zones from a surface through a field's
                       points; or inverse-distance, nearest
  --split-zones 3      split zones by that pH, by at most so many classes a field;
  --split-by lime      by the requirement of --lime-method instead (else: ph)
  --spread-width 60    feet (or 18m): the narrowest that a spreader can follow
  --lime-depth CM      depth to lime, if not the method's own
  --residual-lime T,M  lime spread before: short tons an acre, months ago
Lime (a budget from survey values; a soil test sets the rate)
  --state GA           target pH of that state; or --target-ph 6.5
  --lime-ecce 63       effective calcium carbonate equivalent of your lime, %
  --lime-moisture 8    its water content, %
  --lime-cap 2.5       most of it on sod in a year, short tons an acre
  --lime-months 12     wait after the last pass; --lime-unsuited limes all ground
  --date 2026-11-25    count from this day; with --region NAME gives the window
Output
  --out DIR            folder of the run; an older run in it is replaced
  --explain ZONE       print the whole reasoning for one zone, by its id
  --write-profile FILE write the built-in crop profile to copy and edit
  --workers N          default: one per processor
Settings may stand in rootworthy.toml beside the fields; flags win.
`

// screenFlags are the flags of screen as typed.
type screenFlags struct {
	// What the fields lie on: surveys, which make one together, and where their tables are when they come without.
	survey, tables []string
	unitsKey       string // column of the map unit's key; "" for the usual one

	// Measured heights: a raster, the unit of its values where the file does not say, and whether to look where water and cold air gather.
	elevation, elevationUnit string
	terrainNotes             bool

	// How the boundaries are read. Customer, farm and id name properties of the file that hold them.
	exclude            []string
	id, customer, farm string
	crs, layer         string

	// What is aimed at, and from which day. A target of 0 is the state's or the profile's.
	profile, state, region, date string
	targetPH                     float64

	// The lime at hand: percent of calcium carbonate equivalent and of water, the yearly cap in short tons an acre, and the wait after the last
	// pass in months. 0 leaves each to the profile.
	ecce, moisture, cap float64
	months              int
	unsuited            bool // plan lime for unsuited ground too

	out, explain, writeProfile string
	workers                    int // 0 means one per processor

	testFlags
}

// declare declares the flags. The zero value of a number means that the flag was left out and the profile or the method decides; typed zeros
// are refused by [notZero].
func (f *screenFlags) declare(fl *pflag.FlagSet) {
	fl.StringArrayVar(&f.survey, "survey", nil, "")
	fl.StringArrayVar(&f.tables, "tables", nil, "")
	fl.StringArrayVar(&f.exclude, "exclude", nil, "")
	fl.BoolVar(&f.terrainNotes, "terrain-notes", false, "")
	// All texts are alike: none of them has a usual value that the help would have to name.
	for _, s := range []struct {
		to   *string
		name string
	}{{&f.unitsKey, "units-key"}, {&f.elevation, "elevation"}, {&f.elevationUnit, "elevation-unit"}, {&f.id, "id"}, {&f.customer, "customer"}, {&f.farm, "farm"}, {&f.crs, "crs"}, {&f.layer, "layer"}, {&f.profile, "profile"}, {&f.state, "state"},
		{&f.region, "region"}, {&f.date, "date"}, {&f.out, "out"}, {&f.explain, "explain"}, {&f.writeProfile, "write-profile"}} {
		fl.StringVar(s.to, s.name, "", "")
	}
	fl.Float64Var(&f.targetPH, "target-ph", 0, "")
	fl.Float64Var(&f.ecce, "lime-ecce", 0, "")
	fl.Float64Var(&f.moisture, "lime-moisture", 0, "")
	fl.Float64Var(&f.cap, "lime-cap", 0, "")
	fl.IntVar(&f.months, "lime-months", 0, "")
	fl.BoolVar(&f.unsuited, "lime-unsuited", false, "")
	fl.IntVar(&f.workers, "workers", 0, "")
	f.testFlags.declare(fl)
}

// screen carries out the verb screen, or one of the two small things it can do without fields: write the built-in profile, explain a zone of a
// run.
func screen(ctx context.Context, args []string, std stdio) error {
	var f screenFlags
	fl := newFlags("screen", screenHelp, std.out)
	f.declare(fl)
	if err := parse(fl, args); err != nil {
		return err
	}
	switch fields := fl.Args(); {
	case f.writeProfile != "":
		return writeProfile(f.writeProfile, std)
	// A run that stands already is explained without being made again.
	case len(fields) == 0 && f.explain != "" && f.out != "":
		return explainRun(f.out, f.explain, std)
	case len(fields) == 0:
		return usagef("no fields given; begin with `rootworthy screen FIELDS --survey PATH --out DIR`")
	default:
		// Settings are those beside the first of the fields, and hold for all fields of the call.
		if err := applySettings(fl, fields[0]); err != nil {
			return err
		}
		if len(f.survey) == 0 {
			return usagef("no soil survey given; add --survey PATH (a survey export, a database, a map with keys; see `rootworthy survey --help`)")
		}
		// After the settings, which may name the survey but never the place of results.
		if f.out == "" && f.explain == "" {
			return usagef("no place for the results given; add --out DIR")
		}
		if err := errors.Join(notZero(fl, "target-ph", "lime-ecce", "lime-cap", "lime-months", "lime-depth", "lime-quality", "al-saturation"),
			together(fl, "tests", "soil tests", "mapping", "residual-lime", "lime-table", "lime-depth", "lime-quality", "al-saturation", "from-memory")); err != nil {
			return usagef("%v", err)
		}
		return f.screen(ctx, fl, fields, std)
	}
}
