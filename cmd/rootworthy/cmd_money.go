package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"rootworthy/export/grower"
	"rootworthy/export/money"
	"rootworthy/internal/atomicfile"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
	"rootworthy/suitability/economics"
	"rootworthy/suitability/nutrientplan"
	"rootworthy/suitability/season"
)

const moneyHelp = `  rootworthy money run --prices prices.toml --out money
  rootworthy money --example > prices.toml

What a stand may cost and bring, by your own prices: lime, seed, drilling and
the rest by zone and field; its worth over going on with the sod; what just
pays it back; what moves the result most; ground that is not worth sowing.
All as ranges. The program has no price of its own, and what the file does not
give is left out of the sums and told.

RUN is the folder that screen wrote; nothing of it is worked out again. Writes
money.html and money.pdf to read, money.csv, money-zones.csv and
money-fields.csv for a spreadsheet, sensitivity.svg and .csv, and prices.toml.
  --prices FILE          your prices, TOML; --example prints one to fill in
  --out DIR              folder for the results; older ones in it are replaced
  --field ID             only this field (may be repeated)
  --paper SIZE           letter (the default) or a4
  --tests FILE           laboratory's file, to price fertilizer by its plan;
                         --mapping, --lab-report, --nutrient-table, --region
                         and --fertilizer as for plan
  --draws 1000           from your ranges, for where 8 of 10 lie; 0 for none
  --seed 0               of the draws; the same seed gives the same files
`

// moneyFlags are the flags of money as typed.
type moneyFlags struct {
	prices, out, paper string
	fields             []string // ids; none means all
	example            bool     // print a file to fill in, and nothing else
	draws              int      // 0 for none
	seed               uint64
	plan               planFlags // of which those about nutrients count
}

// declare declares the flags; those of the nutrient plan are the same as in the verb plan, and mean the same.
func (f *moneyFlags) declare(fl *pflag.FlagSet) {
	fl.StringVar(&f.prices, "prices", "", "")
	fl.StringVar(&f.out, "out", "", "")
	fl.StringVar(&f.paper, "paper", "letter", "")
	fl.StringArrayVar(&f.fields, "field", nil, "")
	fl.BoolVar(&f.example, "example", false, "")
	fl.IntVar(&f.draws, "draws", usualMoneyDraws, "")
	fl.Uint64Var(&f.seed, "seed", 0, "")
	fl.StringArrayVar(&f.plan.tests.tests, "tests", nil, "")
	fl.StringVar(&f.plan.tests.mapping, "mapping", "", "")
	fl.StringVar(&f.plan.labReport, "lab-report", "", "")
	fl.StringVar(&f.plan.table, "nutrient-table", "", "")
	fl.StringVar(&f.plan.region, "region", "", "")
	fl.StringArrayVar(&f.plan.fertilizer, "fertilizer", nil, "")
}

// usualMoneyDraws is how many draws are made where nobody says; mostMoneyDraws bounds the work: beyond, the tenths no longer move.
const usualMoneyDraws, mostMoneyDraws = 1000, 100_000

// check says what of the command line cannot be meant.
func (f *moneyFlags) check(fl *pflag.FlagSet) error {
	switch {
	case fl.NArg() != 1:
		return usagef("money needs one run: `rootworthy money RUN --prices FILE --out DIR`")
	case f.prices == "":
		return usagef("no prices given; add --prices FILE (`rootworthy money --example` prints a file to fill in)")
	case f.out == "":
		return usagef("no place for the results given; add --out DIR")
	// 0 is a choice: no draws are made.
	case f.draws < 0 || f.draws > mostMoneyDraws:
		return usagef("--draws: %d is not possible; give a number from 0 to %d", f.draws, mostMoneyDraws)
	case len(f.plan.tests.tests) == 0 && (f.plan.labReport != "" || f.plan.table != "" || len(f.plan.fertilizer) > 0 || f.plan.tests.mapping != ""):
		return usagef("--mapping, --lab-report, --nutrient-table and --fertilizer go with the tests that they are about: add --tests FILE")
	}
	return nil
}

// runMoney carries out the verb money: prices of the user's own against the plan of a run.
func runMoney(ctx context.Context, args []string, std stdio) error {
	var f moneyFlags
	fl := newFlags("money", moneyHelp, std.out)
	f.declare(fl)
	if err := parse(fl, args); err != nil {
		return err
	}
	// The example needs no run and no prices: it is how to begin.
	if f.example {
		_, err := io.WriteString(std.out, money.Template())
		return err
	}
	if err := f.check(fl); err != nil {
		return err
	}
	size, err := paperOf(f.paper)
	if err != nil {
		return err
	}
	dir := atomicfile.Folder{Dir: f.out, Files: money.Files(), Marked: money.Ours}
	// Asked before the draws are made, as in the other verbs that take a while.
	if err := dir.Check(); err != nil {
		return err
	}
	var faults diag.List
	book, err := f.book(fl.Arg(0), &faults)
	if err != nil {
		return err
	}
	err = dir.Write(func(name string, w io.Writer) error {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		return book.Write(w, name, size)
	})
	if err != nil {
		return err
	}
	if _, err := io.WriteString(std.out, book.Summary(f.out)); err != nil {
		return err
	}
	return tellFaults(&faults, std)
}

// book opens the run and works out its money.
func (f *moneyFlags) book(run string, faults *diag.List) (*money.Book, error) {
	r, err := openRun(run)
	if err != nil {
		return nil, err
	}
	return f.bookOf(r, faults)
}

// bookOf opens the prices and works out the money of a run.
func (f *moneyFlags) bookOf(r *suitability.Result, faults *diag.List) (*money.Book, error) {
	prices, err := openPrices(f.prices)
	if err != nil {
		return nil, err
	}
	// Chosen before the plan is made, so that samples of other fields are not fertilizer to buy.
	if r, err = (&fieldChoice{fields: f.fields}).of(r); err != nil {
		return nil, err
	}
	plan, err := f.nutrients(r, faults)
	if err != nil {
		return nil, err
	}
	return &money.Book{Run: r, Study: economics.Of(r, prices, economics.Options{Nutrients: plan, Draws: f.draws, Seed: f.seed})}, nil
}

// nutrients makes the nutrient plan that fertilizer is priced by; nil without tests.
func (f *moneyFlags) nutrients(r *suitability.Result, faults *diag.List) (*nutrientplan.Plan, error) {
	if len(f.plan.tests.tests) == 0 {
		return nil, nil
	}
	// A farm with just what the nutrient plan asks for: run, region, day and zones without a calendar. So both verbs go by one plan.
	farm := &grower.Farm{Run: r}
	if f.plan.region == "" {
		f.plan.region = r.Provenance.Option("region")
	}
	var err error
	// A run of a program that kept no profile has no windows to look the region up in; its name alone still picks the table of rates.
	if farm.Region.Region = strings.ToLower(f.plan.region); f.plan.region != "" && r.Profile != nil {
		if farm.Region, err = season.Region(r.Profile, f.plan.region); err != nil {
			return nil, usagef("--region: %v", err)
		}
	}
	// Without a day the age of a sample counts from nowhere and stays untold.
	if r.Provenance.Date != "" {
		if farm.Date, err = season.ParseDay(r.Provenance.Date); err != nil {
			return nil, fmt.Errorf("the run's own date: %w", err)
		}
	}
	for i := range r.Zones {
		farm.Zones = append(farm.Zones, grower.Zone{Zone: &r.Zones[i], Why: grower.WhyNone(&r.Zones[i])})
	}
	if err := f.plan.nutrients(farm, r, faults); err != nil {
		return nil, err
	}
	return farm.Nutrients, nil
}
