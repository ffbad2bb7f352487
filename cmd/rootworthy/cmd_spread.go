package main

import (
	"context"
	"slices"

	"github.com/spf13/pflag"

	"rootworthy/export/words"
)

const spreadHelp = `  rootworthy spread run --out lime --width 60 --hopper 8
  rootworthy spread run --out E: --layout card --field F2 --field F6
  rootworthy spread --check E:/TASKDATA run
  rootworthy spread run --applied log.csv --out after

Makes the task data (ISO 11783-10) that a spreader's controller reads, and a
load sheet for the driver; checks such files; compares what was spread with the
plan. RUN is the --out of screen. Rates from a soil survey alone are refused;
--untested-ok "REASON" lets them through and stamps every file.

  --out DIR            where to write   --layout folder|zip|card (only TASKDATA)
  --field ID           only this field (may be repeated)
  --per farm           one task a farm; default: one a field
  --pass N|all         which yearly pass; default 1
  --zones grid2|grid1|polygons           --taskdata-version 3|4
  --max-cells 350      longest side of a grid
  --product NAME  --customer NAME  --farm NAME   names the controller shows
  --display lb/ac      or st/ac, t/ha, kg/ha: how it shows rates
Spreader (feet or 18m; short tons, acres)
  --width 50           working width    --hopper 8   what it holds
  --min-rate 0.5  --max-rate 5  --rate-step 0.25     short tons an acre
  --smallest 0.25      acres; smaller ground gets the rate of a neighbour
  --headland 60        strip driven round at one rate: --headland-lime mean|none
  --tray 20x20         tray to check rates with, inches (or 50x50cm)
Checking
  --check FILE         task data: folder, zip or TASKDATA.XML
  --applied FILE       CSV (lon, lat, rate) or task data; --rate-unit lb/ac
  --workers N          default: one per processor
`

// spreadFlags are the flags of spread as typed.
type spreadFlags struct {
	// What is written: where, in which layout, one task for what, which pass, and how rates are laid out.
	out, layout, per, pass, zones string
	fields                        []string
	version, maxCells             int // of the task data; longest side of a grid, 0 for the usual
	workers                       int // 0 means one per processor

	// Names and units that the controller shows. Untested is the reason for which rates of the survey alone may pass.
	product, customer, farm, display, untested string

	// The spreader: lengths with their unit ("60", "18m"), the tray with its sides ("20x20").
	width, headland, headlandLime, tray string
	hopper, minRate, maxRate, rateStep  float64 // short tons; short tons an acre
	smallest                            float64 // acres

	// The other two tasks of the verb: a file to look into, and what was spread.
	check, applied, rateUnit string
}

// declare declares the flags. A limit of 0 is one that the machine does not have; layout, shape of the zones and pass have a usual word,
// which the help names.
func (f *spreadFlags) declare(fl *pflag.FlagSet) {
	for _, s := range []struct {
		to          *string
		name, usual string
	}{{&f.out, "out", ""}, {&f.layout, "layout", "folder"}, {&f.per, "per", "field"}, {&f.pass, "pass", "1"}, {&f.zones, "zones", "grid2"},
		{&f.product, "product", ""}, {&f.customer, "customer", ""}, {&f.farm, "farm", ""}, {&f.display, "display", ""},
		{&f.untested, "untested-ok", ""}, {&f.width, "width", ""}, {&f.headland, "headland", ""}, {&f.headlandLime, "headland-lime", "mean"},
		{&f.tray, "tray", ""}, {&f.check, "check", ""}, {&f.applied, "applied", ""}, {&f.rateUnit, "rate-unit", ""}} {
		fl.StringVar(s.to, s.name, s.usual, "")
	}
	fl.StringArrayVar(&f.fields, "field", nil, "")
	fl.IntVar(&f.version, "taskdata-version", 3, "")
	fl.IntVar(&f.maxCells, "max-cells", 0, "")
	fl.IntVar(&f.workers, "workers", 0, "")
	fl.Float64Var(&f.hopper, "hopper", 0, "")
	fl.Float64Var(&f.minRate, "min-rate", 0, "")
	fl.Float64Var(&f.maxRate, "max-rate", 0, "")
	fl.Float64Var(&f.rateStep, "rate-step", 0, "")
	fl.Float64Var(&f.smallest, "smallest", 0, "")
}

// spread carries out the verb spread.
func spread(ctx context.Context, args []string, std stdio) error {
	var f spreadFlags
	fl := newFlags("spread", spreadHelp, std.out)
	f.declare(fl)
	if err := parse(fl, args); err != nil {
		return err
	}
	// Three tasks go by this name, told apart by their flags: to write task data, to say what task data of anybody would do (--check), and to
	// hold what was spread against the plan (--applied). The first that fits counts.
	runs := fl.Args()
	if err := f.together(fl); err != nil {
		return err
	}
	switch {
	case len(runs) > 1:
		return usagef("spread takes one run folder, not %d", len(runs))
	// A run is welcome here and not needed: without one there is nothing to compare the file with.
	case f.check != "":
		return f.checkFile(ctx, runs, std)
	case len(runs) == 0:
		return usagef("no run given; begin with `rootworthy spread RUN --out DIR`, RUN being the --out of screen")
	case f.out == "":
		return usagef("no place for the files given; add --out DIR")
	case f.applied != "":
		return f.compare(ctx, runs[0], std)
	}
	return f.make(ctx, runs[0], std)
}

// together refuses flags that the task at hand would pass over: whoever asks for one field and gets the sums of all has been misled.
func (f *spreadFlags) together(fl *pflag.FlagSet) error {
	task, takes := "", []string{"check", "pass", "workers"}
	switch {
	case f.check != "" && f.applied != "":
		return usagef("--check and --applied do not go together; one at a time")
	case f.check != "":
		task = "--check"
	case f.applied != "":
		task, takes = "--applied", []string{"applied", "pass", "workers", "out", "width", "rate-unit"}
	default:
		if fl.Changed("rate-unit") {
			return usagef("--rate-unit goes with --applied alone")
		}
		return nil
	}
	var apart []string
	fl.Visit(func(g *pflag.Flag) {
		if !slices.Contains(takes, g.Name) && g.Name != "help" {
			apart = append(apart, "--"+g.Name)
		}
	})
	do := "do"
	switch len(apart) {
	case 0:
		return nil
	case 1:
		do = "does"
	}
	return usagef("%s %s not go with %s", words.Listed(apart), do, task)
}
