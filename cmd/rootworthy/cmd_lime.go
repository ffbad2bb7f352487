package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/internal/atomicfile"
	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/season"
	"rootworthy/suitability/soiltest"
)

const limeHelp = `  rootworthy lime results.csv --lime-method nc-mehlich --target-ph 6.5
  rootworthy lime results.xlsx --state GA --date 2026-11-25 --out rates.csv

Lime for each sample of a laboratory's file: the rate, its method and error,
where the method holds, what to beware of, how it differs from the laboratory's
own figure. No field and no survey needed. Without --lime-method all methods
answer that have what they need; choose the one that your state uses.

  nc-mehlich      Mehlich buffer pH or acidity (NC)
  penn-state-ea   exchangeable acidity, modified Mehlich (PA)
  georgia-lbc     lime buffer capacity (GA)
  adams-evans     Adams-Evans buffer pH (AL, DE); in part memory: --from-memory
  al-saturation   aluminum by KCl; --al-saturation PERCENT that the crop bears
  laboratory      the laboratory's own figure, as given
  table           your own, of buffer pH and target: --lime-table FILE (TOML)

  --target-ph 6.5      or --state GA for that state's target
  --lime-ecce 63       effective calcium carbonate equivalent of your lime, %
  --lime-moisture 8    its water content, %
  --lime-quality 90    ECCE of the lime the method means, if its source is silent
  --lime-depth CM      depth to lime, if not the method's own
  --residual-lime T,M  lime spread before: short tons an acre, months ago
  --mapping FILE       what the file does not say (see tests check)
  --date 2026-11-25    count the age of the samples from this day
  --offers FILE        limes to compare, by the price of an effective ton: CSV of
                       name,price,ecce,moisture,dolomitic; instead of ecce, cce
                       with scheme (ohio, new-york, mississippi) and mesh_20 …
  --magnesium-region Piedmont  or "Coastal Plain": calcitic or dolomitic?
  --out FILE           write the list (CSV) instead of showing it
`

// limeFlags are the flags of lime as typed.
type limeFlags struct {
	testFlags
	state, date string
	targetPH    float64
	out         string // table to write; "" prints the list

	// What is spread: percent of calcium carbonate equivalent, percent of water. 0 means pure and dry.
	ecce, moisture float64

	// Which lime to buy: a list of offers, and the region by whose ratings magnesium is low.
	offers, region string
}

// limeSamples carries out the verb lime: what each method asks for by each sample, without fields and without a survey. Its exit code is 3
// where a method that was asked has no figure for a bag of the topsoil.
func limeSamples(_ context.Context, args []string, std stdio) error {
	var f limeFlags
	fl := newFlags("lime", limeHelp, std.out)
	f.declareMethod(fl)
	fl.StringVar(&f.state, "state", "", "")
	fl.StringVar(&f.date, "date", "", "")
	fl.StringVar(&f.out, "out", "", "")
	fl.StringVar(&f.offers, "offers", "", "")
	fl.StringVar(&f.region, "magnesium-region", "", "")
	fl.Float64Var(&f.targetPH, "target-ph", 0, "")
	fl.Float64Var(&f.ecce, "lime-ecce", 0, "")
	fl.Float64Var(&f.moisture, "lime-moisture", 0, "")
	if err := parse(fl, args); err != nil {
		return err
	}
	if f.tests = fl.Args(); len(f.tests) == 0 {
		return usagef("no laboratory file given; begin with `rootworthy lime FILE`")
	}
	if err := notZero(fl, "target-ph", "lime-ecce", "lime-depth", "lime-quality", "al-saturation"); err != nil {
		return usagef("%v", err)
	}
	var faults diag.List
	region, offers, err := f.choice(&faults)
	if err != nil {
		return err
	}
	rows, err := f.rows(&faults)
	if err != nil {
		return err
	}
	if f.out == "" {
		err = words.LimeSamples(std.out, rows)
	} else {
		err = f.write(rows, std)
	}
	if err != nil {
		return err
	}
	// Which lime to buy is told with a file as well: it is for the reader and no column of it.
	if err := words.LimeChoice(std.out, rows, region, offers); err != nil {
		return err
	}
	if err := tellFaults(&faults, std); err != nil {
		return err
	}
	// A bag from the subsoil has no figure by design; any other sample without one makes the exit code say so.
	if slices.ContainsFunc(rows, func(r export.LimeSample) bool { return r.Answer.Refusal != nil && !r.Deeper }) {
		return errFaults
	}
	return nil
}

// choice reads what is asked about which lime to buy.
func (f *limeFlags) choice(faults *diag.List) (region *lime.MagnesiumRegion, offers []lime.Offer, err error) {
	if f.region != "" {
		r, ok := lime.MagnesiumRegionByName(f.region)
		if !ok {
			return nil, nil, usagef("--magnesium-region: %q has no ratings here; give Piedmont or \"Coastal Plain\"", f.region)
		}
		region = &r
	}
	if f.offers == "" {
		return region, nil, nil
	}
	var g given
	// A given that is thrown away: the list of lime is no run and keeps no record of its sources.
	text, err := g.take(f.offers, "offers", 1<<20)
	if err != nil {
		return nil, nil, err
	}
	offers, err = lime.ReadOffers(f.offers, bytes.NewReader(text), faults)
	return region, offers, err
}

// write writes the list as a table.
func (f *limeFlags) write(rows []export.LimeSample, std stdio) error {
	if err := notAnInput(f.out, append(slices.Clone(f.tests), f.mapping, f.table, f.offers)...); err != nil {
		return err
	}
	err := atomicfile.Write(f.out, func(w io.Writer) error { return export.WriteLimeSamples(w, rows, words.SampleSentences()) })
	if err != nil {
		return err
	}
	refused := 0
	// A bag that was dug deeper than the topsoil is on the list, but no method could give it a figure, so it is not counted as one that
	// went without.
	for _, r := range rows {
		if r.Answer.Refusal != nil && !r.Deeper {
			refused++
		}
	}
	_, err = fmt.Fprintf(std.out, "wrote %s: %d lines, %d without a figure\n", f.out, len(rows), refused)
	return err
}

// rows asks the methods about every sample.
func (f *limeFlags) rows(faults *diag.List) ([]export.LimeSample, error) {
	if err := f.check(); err != nil {
		return nil, usagef("%v", err)
	}
	// Target, date and material are read as screen reads them: one rule for both verbs.
	screen := screenFlags{state: f.state, date: f.date, targetPH: f.targetPH, ecce: f.ecce, moisture: f.moisture}
	opt, err := screen.options(suitability.DefaultProfile())
	if err != nil {
		return nil, err
	}
	screen.notices(opt, faults)
	g, err := f.open(faults)
	if err != nil {
		return nil, err
	}
	if f.date != "" {
		day, _ := season.ParseDay(f.date) // options has read it already
		lab.CheckAge(g.tests.Samples, day, faults)
	}
	ask := g.tests.Ask
	ask.Target = opt.Target.PH
	// Without a method all are asked that can answer, side by side: which one the laboratory's state calibrated is for the user to know.
	methods := limeplan.Askable(ask)
	if g.tests.Method != nil {
		methods = []lime.Method{*g.tests.Method}
	}
	surface, _ := soiltest.Windows(opt.Profile)
	var rows []export.LimeSample
	for i := range g.tests.Samples {
		s := &g.tests.Samples[i]
		answers := limeplan.Choices(s, methods, ask)
		below := !soiltest.Bears(s, surface)
		if below {
			answers = []limeplan.Answer{deeper(s)}
		}
		for _, a := range answers {
			// The product stays as typed; 0 means that the rate is of pure calcium carbonate.
			row := export.LimeSample{Sample: s, Answer: a, Target: ask.Target, Age: soiltest.Age(s, opt.Lime.Date), Deeper: below,
				Product: lime.Product{ECCE: unit.Percent(f.ecce), Moisture: unit.Percent(f.moisture)}}
			if at := slices.IndexFunc(methods, func(m lime.Method) bool { return m.Name == a.Need.Method }); at >= 0 && a.Refusal == nil {
				row.Method = &methods[at]
			}
			rows = append(rows, row)
		}
	}
	return rows, nil
}

// deeper refuses a sample that was not dug in the topsoil, for which all methods are made.
// It is an answer rather than a fault: such bags are dug on purpose, for the subsoil.
func deeper(s *lab.Sample) limeplan.Answer {
	a := limeplan.Of(s)
	a.Refusal = &lime.Refusal{Code: lime.OutsideDepth,
		What: "it was not dug in the topsoil, which lime methods are made for", Fix: "its pH still counts in a screening"}
	return a
}
