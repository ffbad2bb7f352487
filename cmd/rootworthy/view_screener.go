package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	runfolder "rootworthy/internal/run"
	"rootworthy/internal/web"
	"rootworthy/suitability"
)

// settings takes the rootworthy.toml beside the fields, as screen does, and says what is still missing.
func (f *viewFlags) settings(fl *pflag.FlagSet, paths []string) error {
	if err := applySettings(fl, paths[0]); err != nil {
		return err
	}
	if len(f.survey) == 0 {
		return usagef("no soil survey given; add --survey PATH, or give a run to view")
	}
	if f.out != "" || f.explain != "" || f.writeProfile != "" {
		return usagef("--out, --explain and --write-profile belong to screen; --runs DIR keeps the runs of a page")
	}
	return nil
}

// screener screens for the page: the fields of the command line first, then what is drawn or dropped. What cannot be
// meant is refused before anything listens.
func (f *viewFlags) screener(fl *pflag.FlagSet, paths []string) (*web.Screener, error) {
	var faults diag.List
	profile, _, err := openProfile(f.profile, &faults)
	if err != nil {
		return nil, err
	}
	if _, err := f.options(profile); err != nil {
		return nil, err
	}
	s := &web.Screener{Survey: strings.Join(baseNames(f.survey), ", ")}
	s.Lime = web.LimeOrder{Method: f.method, State: f.state, TargetPH: f.targetPH, Interpolate: f.interpolate}
	s.Check = f.check
	finish := func(r *suitability.Result, o web.Order, faults *diag.List) *suitability.Result {
		typed := slices.DeleteFunc(optionsOf(fl), func(o suitability.Option) bool { return slices.Contains(pageFlags(), o.Name) })
		r.Provenance.Options = record(typed, f.ordered(o), o)
		r.Faults = relative(faults.Kept(), slices.Concat(paths, f.survey, f.exclude, []string{f.profile}))
		return r
	}
	s.First = func(ctx context.Context, progress job.Progress, faults *diag.List) (*suitability.Result, error) {
		r, err := f.rateWith(ctx, paths, web.Order{Start: true}, progress, faults)
		if err != nil {
			return nil, err
		}
		return finish(r, web.Order{}, faults), nil
	}
	s.Screen = func(ctx context.Context, o web.Order, progress job.Progress, faults *diag.List) (*suitability.Result, error) {
		r, err := f.ordered(o).rateWith(ctx, paths, o, progress, faults)
		if err != nil {
			return nil, err
		}
		return finish(r, o, faults), nil
	}
	if f.runs != "" {
		s.Keep = f.keep
	}
	return s, nil
}

// rateWith opens everything anew and runs the job: on the files of the command line, or on what a page orders.
func (f *viewFlags) rateWith(ctx context.Context, paths []string, order web.Order, progress job.Progress, faults *diag.List) (*suitability.Result, error) {
	profile, seen, err := openProfile(f.profile, faults)
	if err != nil {
		return nil, err
	}
	opt, err := f.options(profile)
	if err != nil {
		return nil, err
	}
	opt.Progress = progress
	fields := order.Fields
	var files []*witness
	if order.Start {
		if fields, files, err = openFields(ctx, paths, &f.screenFlags, faults); err != nil {
			return nil, err
		}
		fields = web.Among(fields, order.Fields)
	}
	o, err := f.openGround(ctx, fields, &opt, faults)
	if err != nil {
		return nil, err
	}
	defer o.close()
	given, err := f.given(order, faults)
	if err != nil {
		return nil, err
	}
	opt.Tests = given.tests
	r, err := o.screen(ctx, fields, opt, faults)
	if err != nil {
		return nil, err
	}
	r.Provenance.Program, r.Provenance.Date = "rootworthy "+version, f.date
	r.Provenance.Profile = strings.TrimSpace(profile.Name + " " + profile.Edition)
	boundaries, rest := apart(order.Inputs)
	first, err := inputsOf(files)
	if err != nil {
		return nil, err
	}
	read, err := inputsOf(slices.Concat(o.sources, seen, given.sources))
	r.Provenance.Inputs = slices.Concat(first, boundaries, read, rest)
	return r, err
}

// keep writes a run into a folder of its own and returns its name: run-1, run-2 and so on, whatever is free.
func (f *viewFlags) keep(r *suitability.Result) (string, error) {
	if err := os.MkdirAll(f.runs, 0o755); err != nil {
		return "", err
	}
	for n := 1; n < 100000; n++ {
		name := fmt.Sprintf("run-%d", n)
		dir := filepath.Join(f.runs, name)
		if _, err := os.Lstat(dir); err == nil {
			continue
		}
		return name, runfolder.Write(dir, r)
	}
	return "", fmt.Errorf("%s: holds 100,000 runs; keep them elsewhere", f.runs)
}
