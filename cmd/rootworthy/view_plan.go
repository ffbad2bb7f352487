package main

import (
	"errors"
	"io/fs"
	"os"

	"github.com/spf13/pflag"

	"rootworthy/export/grower"
	"rootworthy/internal/diag"
	"rootworthy/internal/web"
	"rootworthy/suitability"
)

// planner makes the plan of the page by the function of the verb plan. A record that is yet to be begun is none.
func (f *viewFlags) planner() *web.Planner {
	return &web.Planner{Region: f.region, Date: f.date, Farm: func(r *suitability.Result, region, date string, faults *diag.List) (*grower.Farm, error) {
		p := f.plan
		p.region, p.date, p.tests, p.recordGoesOn = region, date, f.testFlags, true
		if _, err := os.Stat(p.record); errors.Is(err, fs.ErrNotExist) {
			p.record = ""
		}
		return p.farm(r, faults)
	}}
}

// pageFlags are the flags that have nothing to do with a screening: a run does not keep them.
func pageFlags() []string {
	out := []string{"port", "runs", "prices"}
	fl := pflag.NewFlagSet("", pflag.ContinueOnError)
	new(planFlags).declareOwn(fl)
	fl.VisitAll(func(f *pflag.Flag) { out = append(out, f.Name) })
	return out
}
