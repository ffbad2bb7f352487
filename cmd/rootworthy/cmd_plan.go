package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"rootworthy/export/grower"
	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/season"
)

const planHelp = `  rootworthy plan run --out plan --region coastal-plain --date 2026-03-01
  rootworthy plan run --out plan --region piedmont --date 2026-03-01 \
             --tests lab.csv --seed-tag tag.toml --yield 4.5

One dated plan by field: page, PDF, tables, and plan.ics for your calendar. A
plan into the same folder updates the calendar instead of doubling it.

RUN is the folder that screen wrote; nothing of it is worked out again.
  --out DIR              folder of the plan; an older plan in it is replaced
  --region NAME          sowing window, as in the run's crop profile
  --date YYYY-MM-DD      today; region and date are those of the run if left out
  --field ID             this field alone; repeat it for more. --customer NAME likewise
  --tests FILE           laboratory's file, for nutrients; --mapping as for screen
  --lab-report FILE      classes and rates that the laboratory printed, CSV
  --nutrient-table NAME  state table of rates, such as south-carolina
  --fertilizer PRODUCT   to buy, such as 0-0-60 or "borate=b=15"; repeat it
  --yield T              hay expected in a year, short tons an acre
  --seed-tag FILE        what the tag of the seed says, TOML
  --varieties FILE       your own table of varieties, CSV
  --normals FILE         frost days and soil temperature of your place, CSV
  --first-cut MM-DD      first cutting of the spring after sowing
  --years N              years of harvest to put into the calendar, 1 to 7;
                         default: 3, counted from now on where a stand is up
  --record FILE          what was done and seen in the fields, CSV
  --paper SIZE           letter (the default) or a4
`

// planFlags are the flags of plan as typed.
type planFlags struct {
	out, paper   string
	region, date string // "" for those of the run

	// What the laboratory found, and by whose table it becomes a rate.
	// Of these the plan declares the files and their mapping alone: lime is not worked out again.
	tests      testFlags
	labReport  string // classes and rates printed beside the figures
	table      string // of rates, by name; "" takes that of state and region where there is only one
	fertilizer []string
	yield      float64 // hay of a year, short tons an acre; 0 for not known

	// Files of the user's own, each of which may be left out.
	tag, varieties, normals, record string
	firstCut                        string // "04-20"
	years                           int    // of harvest that are dated

	chosen       fieldChoice
	recordGoesOn bool // the record may tell of days after --date: the page's does, whose day is the run's
}

// usualYears is for how many years of harvest a plan is dated where nobody says.
const usualYears = 3

// declareOwn declares what a plan is made from beside what screen knows too.
func (f *planFlags) declareOwn(fl *pflag.FlagSet) {
	fl.StringVar(&f.labReport, "lab-report", "", "")
	fl.StringVar(&f.table, "nutrient-table", "", "")
	fl.StringArrayVar(&f.fertilizer, "fertilizer", nil, "")
	fl.Float64Var(&f.yield, "yield", 0, "")
	fl.StringVar(&f.tag, "seed-tag", "", "")
	fl.StringVar(&f.varieties, "varieties", "", "")
	fl.StringVar(&f.normals, "normals", "", "")
	fl.StringVar(&f.firstCut, "first-cut", "", "")
	fl.IntVar(&f.years, "years", usualYears, "")
	fl.StringVar(&f.record, "record", "", "")
}

// runPlan carries out the verb plan. The folder is judged when it is written, since its calendar has to be read for that.
func runPlan(ctx context.Context, args []string, std stdio) error {
	var f planFlags
	fl := newFlags("plan", planHelp, std.out)
	fl.StringVar(&f.out, "out", "", "")
	fl.StringVar(&f.region, "region", "", "")
	fl.StringVar(&f.date, "date", "", "")
	fl.StringArrayVar(&f.tests.tests, "tests", nil, "")
	fl.StringVar(&f.tests.mapping, "mapping", "", "")
	fl.StringVar(&f.paper, "paper", "letter", "")
	f.chosen.declare(fl) // not among those of declareOwn: on the page --customer names the property of the owner
	f.declareOwn(fl)
	if err := parse(fl, args); err != nil {
		return err
	}
	switch {
	case fl.NArg() != 1:
		return usagef("plan needs one run: `rootworthy plan RUN --out DIR --region NAME --date YYYY-MM-DD`")
	case f.out == "":
		return usagef("no place for the plan given; add --out DIR")
	}
	if err := f.check(len(f.tests.tests)); err != nil {
		return err
	}
	// Everything that can be wrong on the command line is asked before a file is opened.
	paper, err := paperOf(f.paper)
	if err != nil {
		return err
	}
	r, err := openRun(fl.Arg(0))
	if err != nil {
		return err
	}
	tellEdited(std.err, fl.Arg(0), r)
	var faults diag.List
	farm, err := f.farm(r, &faults)
	if err != nil {
		return err
	}
	w := planWork{dir: f.out, paper: paper, farm: farm}
	if err := w.write(ctx, &faults); err != nil {
		return err
	}
	w.tell(std)
	return tellFaults(&faults, std)
}

// check says what of its own flags cannot be meant beside so many files of tests.
func (f *planFlags) check(tests int) error {
	switch {
	case f.years < 1 || f.years > season.MostYears:
		return usagef("--years: %d is not possible; give 1 to %d, for so long may a stand last", f.years, season.MostYears)
	// Classes and rates printed by a laboratory hang on its samples, and without those they have no ground.
	case f.labReport != "" && tests == 0:
		return usagef("--lab-report goes with the tests that it is about: add --tests FILE")
	}
	return nil
}

// paperOf reads --paper.
func paperOf(name string) (report.Paper, error) {
	switch strings.ToLower(name) {
	case "letter":
		return report.Letter, nil
	case "a4":
		return report.A4, nil
	}
	return "", usagef("--paper: %q is no size; there are letter and a4", name)
}

// farm gathers everything the plan is written from. Record and soil tests are held against the whole run, and fields are left out only
// afterwards: what the files say of the other fields is no mistake in them.
func (f *planFlags) farm(r *suitability.Result, faults *diag.List) (*grower.Farm, error) {
	chosen, err := f.chosen.of(r)
	if err != nil {
		return nil, err
	}
	farm := &grower.Farm{Run: chosen}
	// Whole stays nil for a plan of all fields; parts that speak of the rest of the farm are then left out.
	if chosen != r {
		farm.Whole = r
	}
	if r.Profile == nil {
		return nil, errors.New("the run has no crop profile, so no sowing windows; screen again with this program")
	}
	if err := f.when(r, farm); err != nil {
		return nil, err
	}
	in := season.Input{Start: farm.Date, Window: farm.Region, Years: cmp.Or(f.years, usualYears), Wait: season.Rule{Name: season.AfterLime, Unit: "months"}}
	if err := f.openPlace(farm, &in, faults); err != nil {
		return nil, err
	}
	// The record is read against the whole run, so that lines about fields that are not chosen are no faults.
	own, err := f.openRecord(farm, r, faults)
	if err != nil {
		return nil, err
	}
	// The table comes before the zones, since the parts of a year's potash are steps of their calendars.
	if farm.Table, err = f.chooseTable(farm); err != nil {
		return nil, err
	}
	in.Potash = potashOf(farm.Table)
	for i := range chosen.Zones {
		z := &chosen.Zones[i]
		farm.Zones = append(farm.Zones, zonePlan(r.Profile, z, in, limeplan.AskedOf(r, z), own[z.ID]))
	}
	if err := f.seeds(farm, faults); err != nil {
		return nil, err
	}
	return farm, f.nutrients(farm, r, faults)
}

// when finds the day and the region: what was typed, or what the run was made for.
func (f *planFlags) when(r *suitability.Result, farm *grower.Farm) (err error) {
	if f.date == "" {
		f.date = r.Provenance.Date
	}
	if f.region == "" {
		f.region = r.Provenance.Option("region")
	}
	switch {
	case f.date == "":
		return usagef("a plan counts from a day: add --date YYYY-MM-DD")
	case f.region == "":
		return usagef("a plan counts back from a sowing window: add --region NAME")
	}
	if farm.Date, err = season.ParseDay(f.date); err != nil {
		return usagef("--date: %v", err)
	}
	if farm.Region, err = season.Region(r.Profile, f.region); err != nil {
		return usagef("--region: %v", err)
	}
	return nil
}

// tell says what was written.
func (w *planWork) tell(std stdio) {
	fmt.Fprintf(std.out, "Written to %s\n", w.dir)
	buy := "what to buy for the farm"
	if about := w.farm.About(); about != "" {
		fmt.Fprintf(std.out, "  for %s\n", about)
		buy = "what to buy for these fields"
	}
	for _, line := range [][2]string{{planPage, "the plan, to read or send"}, {planPDF, "the same to print"}, {planSteps, "a row for each zone and step"},
		{planMaterials, "lime, nutrients and seed by zone"}, {planOrder, buy}} {
		fmt.Fprintf(std.out, "  %-14s %s\n", line[0], line[1])
	}
	// By the standard a calendar has at least one entry, so none is written without.
	if !w.dated {
		fmt.Fprintf(std.out, "  no calendar file: no step has a day\n")
		return
	}
	fmt.Fprintf(std.out, "  %-14s for your calendar\n", planICS)
	if w.untouched > 0 {
		fmt.Fprintf(std.out, "  %-14s %s of other fields in it as they were\n", "", words.Count(w.untouched, "entry", "entries"))
	}
	begun, odd := w.farm.LimeOpen()
	for _, x := range []struct {
		zones int
		say   string
	}{{begun, "less lime on record than a pass asks; the rest stands in the calendar"}, {odd, "something to put right in the lines about lime; the plan says what"}} {
		if x.zones > 0 {
			fmt.Fprintf(std.out, "%s with %s\n", words.Count(x.zones, "zone", "zones"), x.say)
		}
	}
	if first := w.farm.NextSowing(); !first.IsZero() {
		fmt.Fprintf(std.out, "Next sowing from %s\n", season.Day(first))
	}
}
