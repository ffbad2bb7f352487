package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"rootworthy/export/samplesheet"
	"rootworthy/suitability/sampling"
)

// options turns flags into the options of a plan; what is out of range is a wrong command line.
func (f *sampleFlags) options(fl *pflag.FlagSet) (sampling.Options, error) {
	o := sampling.Options{Seed: f.seed, Samples: f.samples, Money: f.budget, Price: f.price, DeepPrice: f.deepPrice, Cores: f.cores, Tons: f.ton, Fields: f.fields}
	var e1, e2 error
	// All that is wrong is told at once.
	o.SetBack, e1 = lengthOf("set-back", f.setBack)
	o.Headland, e2 = lengthOf("headland", f.headland)
	errs := []error{e1, e2, notZero(fl, "samples", "budget", "price", "deep-price", "cores", "ton-weight")}
	if err := errors.Join(errs...); err != nil {
		return o, usagef("%v", err)
	}
	if err := o.Check(); err != nil {
		return o, usagef("%v", err)
	}
	return o, nil
}

// whyNothing says why a plan has no bag: first what the user can change.
func whyNothing(p *sampling.Plan) string {
	// Zones are left out for several reasons at once; the one is told that a flag can do something about.
	left := map[string]bool{}
	for _, l := range p.Left {
		left[l.Why] = true
	}
	switch {
	case left[sampling.NoRoom]:
		return ": nowhere is it clear of the edge; lower --set-back or --headland"
	case left[sampling.NoBudget]:
		return ": the budget does not pay for what is needed"
	case left[sampling.NoWorth]:
		return ": a test of pH would hardly change what is done anywhere"
	case left[sampling.Tested]:
		return ": all of it was tested lately"
	}
	return ": no zone is rated"
}

// mostTold is how many zones a terminal gets; the sheet has all of them.
const mostTold = 30

// tellSample prints what is sampled and why.
func tellSample(w io.Writer, p *sampling.Plan, out string) error {
	var b strings.Builder
	b.WriteString(samplesheet.Summary(p, mostTold))
	fmt.Fprintf(&b, "\nWritten to %s: load samples.gpx into the receiver, print %s,\ngive bags.csv to the laboratory and read it back with screen --tests.\n", out, samplesheet.SheetHTML)
	_, err := io.WriteString(w, b.String())
	return err
}
