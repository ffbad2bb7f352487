package main

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/pflag"

	"rootworthy/export/samplesheet"
	"rootworthy/internal/atomicfile"
	"rootworthy/suitability/sampling"
)

const sampleHelp = `  rootworthy sample run --out bags --samples 12
  rootworthy sample run --out bags --budget 600 --price 18 --deep-price 30
  rootworthy sample run --out bags --field F2 --set-back 50 --headland 80

Plans soil sampling: which zones, how deep, how many bags, and where every core
goes. A bag goes where it is most likely to change a class or to move most lime;
the subsoil is asked for where a rating hinges on its pH. RUN is the --out of
screen; tests in it count. Writes the cores as GPX and GeoJSON, lists of bags
and stops, how sure every zone is (chances.csv), a truck sheet with maps.

  --out DIR          where to write
  --samples N        bags at most           default: all that are worth it
  --budget 600       money to spend at most, with
  --price 18         of a topsoil bag, taken and analysed
  --deep-price 30    of a subsoil bag; default: --price
  --field ID         only this field (may be repeated)
  --cores 10         in a topsoil bag; a subsoil bag gets half as many
  --set-back 66      feet (or 20m) from the edge of field and excluded ground
  --headland 90      feet; the strip where a spreader turned, from the edge, if
                     it is wider than the set-back
  --ton-weight 4     tons of misplaced lime that count as one acre misjudged
  --seed 0           of the draws; the same seed gives the same plan

bags.csv is filled in by the laboratory and read back by screen --tests.
`

// sampleFlags are the flags of sample as typed.
type sampleFlags struct {
	out               string
	setBack, headland string // lengths with their unit: "66", "20m"
	fields            []string

	// How much: bags at most, or money at most with the price of a bag. 0 means no such bound.
	samples                  int
	budget, price, deepPrice float64

	cores int     // in a bag of topsoil; 0 for the usual
	ton   float64 // tons of misplaced lime that weigh as much as an acre misjudged; 0 for the usual
	seed  uint64
}

// declare declares the flags. Every number of 0 means that it was not given; typed zeros are refused by [notZero].
func (f *sampleFlags) declare(fl *pflag.FlagSet) {
	fl.StringVar(&f.out, "out", "", "")
	fl.StringVar(&f.setBack, "set-back", "", "")
	fl.StringVar(&f.headland, "headland", "", "")
	fl.IntVar(&f.samples, "samples", 0, "")
	fl.IntVar(&f.cores, "cores", 0, "")
	fl.Float64Var(&f.budget, "budget", 0, "")
	fl.Float64Var(&f.price, "price", 0, "")
	fl.Float64Var(&f.deepPrice, "deep-price", 0, "")
	fl.Float64Var(&f.ton, "ton-weight", 0, "")
	fl.StringArrayVar(&f.fields, "field", nil, "")
	fl.Uint64Var(&f.seed, "seed", 0, "")
}

// sample plans from the run folder alone: what is known of each zone stands in it; the survey is not opened again.
func sample(ctx context.Context, args []string, std stdio) error {
	var f sampleFlags
	fl := newFlags("sample", sampleHelp, std.out)
	f.declare(fl)
	if err := parse(fl, args); err != nil {
		return err
	}
	switch {
	case fl.NArg() != 1:
		return usagef("sample needs one run: `rootworthy sample RUN --out DIR`")
	case f.out == "":
		return usagef("no place for the plan given; add --out DIR")
	}
	o, err := f.options(fl)
	if err != nil {
		return err
	}
	dir := atomicfile.Folder{Dir: f.out, Files: samplesheet.Files(), Marked: samplesheet.Ours}
	// Before the draws, which take seconds on a large run.
	if err := dir.Check(); err != nil {
		return err
	}
	r, err := openRun(fl.Arg(0))
	if err != nil {
		return err
	}
	p, err := sampling.New(ctx, r, o)
	if err != nil {
		return fmt.Errorf("%s: %w", fl.Arg(0), err)
	}
	// An empty plan is no plan: a folder of files with nothing in them would be printed and carried along.
	if len(p.Bags) == 0 {
		return fmt.Errorf("%s: there is nothing to sample%s", fl.Arg(0), whyNothing(p))
	}
	if err := dir.Write(func(name string, w io.Writer) error { return samplesheet.Write(w, name, p) }); err != nil {
		return err
	}
	return tellSample(std.out, p, f.out)
}
