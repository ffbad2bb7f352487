package main

import (
	"context"
	"slices"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	"rootworthy/suitability"
)

// work is what differs between a run that the command line asks for and one that a page does.
type work struct {
	fields   func(*diag.List) ([]field.Field, []*witness, error)
	tests    func(*diag.List) (given, error)
	settled  func(job.Options)   // told the options before anything large is opened; nil for nobody
	inputs   []suitability.Input // what came in through a page, for the record of the run; boundaries stand with the fields
	progress job.Progress
}

// carryOut opens everything anew and runs the job. Profile and options come first: what cannot be meant is told before a survey is read.
func (f *screenFlags) carryOut(ctx context.Context, w work, faults *diag.List) (*suitability.Result, error) {
	profile, seen, err := openProfile(f.profile, faults)
	if err != nil {
		return nil, err
	}
	opt, err := f.options(profile)
	if err != nil {
		return nil, err
	}
	if w.settled != nil {
		w.settled(opt)
	}
	fields, files, err := w.fields(faults)
	if err != nil {
		return nil, err
	}
	o, err := f.openGround(ctx, fields, &opt, faults)
	if err != nil {
		return nil, err
	}
	// Only after the job: polygons and heights are read while it goes on.
	defer o.close()
	given, err := w.tests(faults)
	if err != nil {
		return nil, err
	}
	opt.Tests, opt.Progress = given.tests, w.progress
	r, err := o.screen(ctx, fields, opt, faults)
	if err != nil {
		return nil, err
	}
	r.Provenance.Program, r.Provenance.Date = "rootworthy "+version, f.date
	r.Provenance.Profile = strings.TrimSpace(profile.Name + " " + profile.Edition)
	r.Provenance.Inputs, err = w.record(files, slices.Concat(o.sources, seen, given.sources))
	return r, err
}

// record lists what a run was made from: boundaries first, of files and then of the page, and the rest in the same order.
func (w *work) record(boundaries, rest []*witness) ([]suitability.Input, error) {
	first, err := inputsOf(boundaries)
	if err != nil {
		return nil, err
	}
	read, err := inputsOf(rest)
	drawn, other := apart(w.inputs)
	return slices.Concat(first, drawn, read, other), err
}
