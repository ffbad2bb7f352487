package main

import (
	"context"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"rootworthy/suitability/ranking"
)

const rankHelp = `  rootworthy rank run --out rank --date 2026-03-01 --region piedmont
  rootworthy rank north south --out rank --prices prices.toml --top 25 \
             --weights suited=3,cost=2,ready=1,sure=2,risk=2

Which fields to take, which to visit first, which to leave, and why: all fields
of one run or several in one order, with a letter for each owner. Also told:
which fields others beat on every count, and how firm the order is when weights
and figures move.

Each RUN is the --out of screen. Writes rank.html, rank.pdf, rank.csv,
places.svg, letters.html, letters.pdf and a page for each field in letters/.
  --out DIR            folder of the ranking; an older one in it is replaced
  --weights LIST       how much each of these counts; what is left out stays
                       suited=3  ground suited once limed
                       cost=2    cost of a suited acre; without prices its lime
                       ready=1   how soon most of that ground can be sown
                       sure=2    chance that the field is suited enough
                       risk=2    ground called suited that may prove worse
  --prices FILE        your prices (money --example): cost in money; may it pay?
  --top 10             how many fields you have room for
  --date YYYY-MM-DD    today, and --region NAME the sowing window: those of the
                       runs if left out; without them the wait after lime counts
  --letters 50         letters for so many fields, from the first; or all, none
  --paper SIZE         letter (the default) or a4
  --draws N            of weights and figures; default: 200 to 1,000
  --seed 0             of the draws; the same seed gives the same files
`

// rankFlags are the flags of rank as typed.
type rankFlags struct {
	out, paper   string
	weights      string // "suited=3,cost=2"; "" for the proposal
	prices       string // file; "" ranks by lime in the place of money
	date, region string // "" for those of the runs
	letters      string // a number, "all" or "none"
	top          int    // how many fields there is room for
	draws        int    // 0 lets the number follow from how many fields there are
	seed         uint64
}

// declare declares the flags.
func (f *rankFlags) declare(fl *pflag.FlagSet) {
	fl.StringVar(&f.out, "out", "", "")
	fl.StringVar(&f.weights, "weights", "", "")
	fl.StringVar(&f.prices, "prices", "", "")
	fl.StringVar(&f.date, "date", "", "")
	fl.StringVar(&f.region, "region", "", "")
	fl.StringVar(&f.letters, "letters", strconv.Itoa(usualLetters), "")
	fl.StringVar(&f.paper, "paper", "letter", "")
	fl.IntVar(&f.top, "top", 10, "")
	fl.IntVar(&f.draws, "draws", 0, "")
	fl.Uint64Var(&f.seed, "seed", 0, "")
}

// runRank carries out the verb rank: fields of one run or several, gathered, put in order and told.
func runRank(ctx context.Context, args []string, std stdio) error {
	var f rankFlags
	fl := newFlags("rank", rankHelp, std.out)
	f.declare(fl)
	if err := parse(fl, args); err != nil {
		return err
	}
	w, err := f.work(fl)
	if err != nil {
		return err
	}
	// Before any work: draws for thousands of fields take seconds, and the folder may be somebody else's.
	if err := w.folder().Check(); err != nil {
		return err
	}
	if err := w.gather(ctx, fl.Args(), &f); err != nil {
		return err
	}
	if err := w.write(ctx); err != nil {
		return err
	}
	return w.tell(std.out)
}

// usualLetters is how many letters are written where nobody says: a list that somebody can read through.
const usualLetters = 50

// most of what can be asked for; more is a slip of the pen.
const (
	mostRankDraws = 100_000
	mostTop       = 1_000_000
)

// work reads what was typed; what cannot be meant is a wrong command line.
func (f *rankFlags) work(fl *pflag.FlagSet) (*rankWork, error) {
	w := &rankWork{dir: f.out}
	w.options = ranking.Options{Weights: ranking.Proposal(), Rules: ranking.ProposedRules(), Top: f.top, Draws: f.draws, Seed: f.seed}
	var err error
	switch {
	case fl.NArg() == 0:
		return nil, usagef("rank needs a run: `rootworthy rank RUN… --out DIR`")
	case f.out == "":
		return nil, usagef("no place for the ranking given; add --out DIR")
	case f.top < 1 || f.top > mostTop:
		return nil, usagef("--top: %d is not possible; give a number from 1 to %d", f.top, mostTop)
	// Left out, the flag is 0 and the number follows from how many fields there are.
	case fl.Changed("draws") && (f.draws < 10 || f.draws > mostRankDraws):
		return nil, usagef("--draws: %d is not possible; give a number from 10 to %d, or leave the flag out", f.draws, mostRankDraws)
	}
	if fl.Changed("weights") {
		if w.options.Weights, err = ranking.ParseWeights(f.weights); err != nil {
			return nil, usagef("--weights: %v", err)
		}
	}
	// Weights of our own proposing are called that wherever the order is shown; typed by the user, even to the same figures, they still are the
	// proposal.
	w.choice.Proposed = w.options.Weights == ranking.Proposal()
	if w.letters, err = lettersOf(f.letters); err != nil {
		return nil, err
	}
	w.paper, err = paperOf(f.paper)
	return w, err
}

// lettersOf reads --letters: how many, -1 for all.
func lettersOf(text string) (int, error) {
	switch strings.ToLower(text) {
	case "all":
		return -1, nil
	case "none":
		return 0, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		return 0, usagef("--letters: %q is not possible; give a number, all or none", text)
	}
	return n, nil
}
