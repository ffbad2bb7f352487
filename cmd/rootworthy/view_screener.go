package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"rootworthy/internal/atomicfile"
	"rootworthy/internal/diag"
	"rootworthy/internal/field"
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
	// Asked after the settings, which may name it.
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
	// Worked out here only to be refused; every screening of the page works them out again.
	if _, err := f.options(profile); err != nil {
		return nil, err
	}
	s := &web.Screener{Survey: strings.Join(baseNames(f.survey), ", ")}
	s.Lime = web.LimeOrder{Method: f.method, State: f.state, TargetPH: f.targetPH, Interpolate: f.interpolate}
	s.Check = f.check
	cut := f.bounds(s)
	s.TestOptions = testOptions()
	finish := func(r *suitability.Result, g *viewFlags, o web.Order, faults *diag.List) *suitability.Result {
		typed := slices.DeleteFunc(optionsOf(fl), func(o suitability.Option) bool { return slices.Contains(pageFlags(), o.Name) })
		r.Provenance.Options = record(typed, g, o)
		r.Faults = relative(faults.Kept(), slices.Concat(paths, f.survey, f.exclude, []string{f.profile}))
		return r
	}
	s.First = func(ctx context.Context, progress job.Progress, faults *diag.List) (*suitability.Result, error) {
		r, err := f.rateWith(ctx, paths, web.Order{Start: true}, progress, faults)
		if err != nil {
			return nil, err
		}
		return finish(r, f, web.Order{}, faults), nil
	}
	s.Screen = func(ctx context.Context, o web.Order, progress job.Progress, faults *diag.List) (*suitability.Result, error) {
		order := o
		if !o.Start { // else they are read with the fields of the command line, and so recorded
			inputs, err := inputsOf(cut)
			if err != nil {
				return nil, err
			}
			order.Inputs = slices.Concat(o.Inputs, inputs)
		}
		g, err := f.ordered(o)
		if err != nil {
			return nil, err
		}
		r, err := g.rateWith(ctx, paths, order, progress, faults)
		if err != nil {
			return nil, err
		}
		return finish(r, g, o, faults), nil
	}
	if f.runs != "" {
		s.Keep = f.keep
	}
	return s, nil
}

// bounds says how a page reads boundaries: as screen does, but for what is about the files of the command line alone (their layer
// and reference system). Which properties name the fields can be chosen on the page. It returns what is cut out of every boundary.
func (f *viewFlags) bounds(s *web.Screener) (cut []*witness) {
	s.Bounds = field.Options{ID: f.id, Customer: f.customer, Farm: f.farm}
	for _, p := range f.exclude {
		from, w := fieldSource(p, roleExclude)
		from.Name = baseName(p) // a page tells no paths
		s.Bounds.Exclude, cut = append(s.Bounds.Exclude, from), append(cut, w)
	}
	return cut
}

// roleExclude is that of a file whose ground is cut out of fields, as openFields has it.
const roleExclude = "exclude"

// rateWith runs the job on the files of the command line, or on what a page orders.
func (f *viewFlags) rateWith(ctx context.Context, paths []string, order web.Order, progress job.Progress, faults *diag.List) (*suitability.Result, error) {
	fields := func(faults *diag.List) ([]field.Field, []*witness, error) {
		if !order.Start {
			return order.Fields, nil, nil
		}
		fields, files, err := openFields(ctx, paths, &f.screenFlags, faults)
		if err != nil {
			return nil, nil, err
		}
		return web.Among(fields, order.Fields), files, nil
	}
	tests := func(faults *diag.List) (given, error) { return f.given(order, faults) }
	return f.carryOut(ctx, work{fields: fields, tests: tests, inputs: order.Inputs, progress: progress}, faults)
}

// keep writes a run into a folder of its own and returns its name: run-1, run-2 and so on, whatever is free. The laboratory files that
// came in through the page go beside it: a run folder holds what screen writes and nothing else.
func (f *viewFlags) keep(r *suitability.Result, held []byte) (string, error) {
	if err := os.MkdirAll(f.runs, 0o755); err != nil {
		return "", err
	}
	// Numbers are tried from 1 each time: a number kept anywhere else would be wrong as soon as somebody moves a folder.
	for n := 1; n < 100000; n++ {
		name := fmt.Sprintf("run-%d", n)
		dir := filepath.Join(f.runs, name)
		if taken(dir) || taken(dir+heldEnd) { // of a run whose folder was deleted the tests may still be there
			continue
		}
		if held != nil { // first, so that no run stands there whose tests are lost
			if err := atomicfile.Write(dir+heldEnd, func(w io.Writer) error { _, err := w.Write(held); return err }); err != nil {
				return "", err
			}
		}
		err := runfolder.Write(dir, r)
		if err != nil && held != nil {
			err = errors.Join(err, os.Remove(dir+heldEnd))
		}
		return name, err
	}
	return "", fmt.Errorf("%s: holds 100,000 runs; keep them elsewhere", f.runs)
}

// heldEnd ends the name of the zip in which the laboratory files of a run stand beside its folder.
const heldEnd = ".tests.zip"

// taken says whether anything stands at a path, a link that leads nowhere too.
func taken(path string) bool { _, err := os.Lstat(path); return err == nil }

// heldBeside reads the laboratory files that were kept beside a run folder; nothing where there are none.
func heldBeside(dir string) ([]byte, error) {
	f, err := os.Open(filepath.Clean(dir) + heldEnd)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, web.MostHeld))
}
