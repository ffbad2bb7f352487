package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"rootworthy/export"
	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/geo/overlay"
	"rootworthy/internal/job"
	"rootworthy/internal/surveypack"
	"rootworthy/soils"
	"rootworthy/suitability"
)

// surveyPack puts surveys into a pack.
func surveyPack(ctx context.Context, in surveyInput, out string, std stdio) error {
	if out == "" {
		return usagef("survey pack needs a folder to write: add --out DIR")
	}
	// Asked before the surveys are read.
	if err := surveypack.Check(out); err != nil {
		return err
	}
	var faults diag.List
	info, err := makePack(ctx, in, out, &faults)
	if err != nil {
		return err
	}
	tellPack(std.out, out, info)
	return tellFaults(&faults, std)
}

// makePack reads surveys and writes them as a pack. The day it is made is the one thing here that comes from the clock.
func makePack(ctx context.Context, in surveyInput, out string, faults *diag.List) (surveypack.Info, error) {
	info := surveypack.Info{Made: time.Now().Format(time.DateOnly), Program: "rootworthy " + version, UnitsKey: in.unitsKey}
	o, err := openSurvey(ctx, in, faults)
	if err != nil {
		return info, err
	}
	defer o.close()
	if o.pack != nil {
		return info, fmt.Errorf("%s: is a survey pack already", in.paths[0])
	}
	// What was read is known once it was read: polygons too.
	if _, err := o.soil.Check(ctx); err != nil {
		return info, err
	}
	inputs, err := o.inputs()
	if err != nil {
		return info, err
	}
	// Whole paths as typed, unlike in the record of a run: the pack is to be made again from them.
	maps := len(unfolded(in.paths)) // opened before those that are there for their tables
	for i, s := range inputs {
		info.Sources = append(info.Sources, surveypack.Source{Path: o.sources[i].name, SHA256: s.SHA256, Tables: i >= maps})
	}
	return surveypack.Write(ctx, out, o.soil, info, faults)
}

// openPack opens a pack, making it again from its sources when it is damaged and they are still there.
func openPack(ctx context.Context, path string, faults *diag.List) (*surveypack.Pack, error) {
	// A pack is a copy that can be made again, so damage is mended rather than told, as long as the sources are there; the notice says so.
	p, err := surveypack.Open(os.DirFS(path))
	if packDamaged(err) {
		if err = remakePack(ctx, path, err, faults); err == nil {
			p, err = surveypack.Open(os.DirFS(path))
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return p, nil
}

// packDamaged says whether a pack failed its own checks, in its tables or in its map.
func packDamaged(err error) bool {
	return errors.Is(err, surveypack.ErrDamaged) || errors.Is(err, overlay.ErrDamaged)
}

// remakePack makes a damaged pack again where all it was made from is still there.
func remakePack(ctx context.Context, path string, why error, faults *diag.List) error {
	info, err := surveypack.ReadInfo(os.DirFS(path))
	// Where not even the manifest can be read, nobody knows what the pack was made of: the first error is the one to tell.
	if err != nil || len(info.Sources) == 0 {
		return why
	}
	in, all := surveyInput{unitsKey: info.UnitsKey}, []string{}
	for _, s := range info.Sources {
		if _, err := os.Stat(s.Path); err != nil {
			return fmt.Errorf("%w (%s, which it was made from, is gone)", why, s.Path)
		}
		all = append(all, s.Path)
		if s.Tables {
			in.tables = append(in.tables, s.Path)
		} else {
			in.paths = append(in.paths, s.Path)
		}
	}
	if _, err := makePack(ctx, in, path, faults); err != nil {
		return err
	}
	faults.Notice(diag.Fault{File: path, Kind: "pack made again", What: "the survey pack was damaged and was made again from " + strings.Join(all, ", ")})
	return nil
}

// screen runs the job on what is open. A pack that turns out damaged is made again, once.
// Damage in the middle of a pack shows only when its tiles are read, which is in the job itself.
func (o *opened) screen(ctx context.Context, fields []field.Field, opt job.Options, faults *diag.List) (*suitability.Result, error) {
	if o.pack == nil {
		return job.Screen(ctx, fields, o.soil, opt, faults)
	}
	r, err := job.ScreenLaid(ctx, fields, o.pack, opt, faults)
	if !packDamaged(err) {
		return r, err
	}
	if err := remakePack(ctx, o.name, err, faults); err != nil {
		return nil, fmt.Errorf("%s: %w", o.name, err)
	}
	o.pack.Close()
	if o.pack, err = surveypack.Open(os.DirFS(o.name)); err != nil {
		return nil, fmt.Errorf("%s: %w", o.name, err)
	}
	return job.ScreenLaid(ctx, fields, o.pack, opt, faults)
}

// tables returns the attribute side of what is open, whole.
// A pack keeps its units apart and in short; each is read whole here, which a screening does only for units under its fields.
func (o *opened) tables() (*soils.Survey, error) {
	if o.pack == nil {
		return o.soil.Survey(), nil
	}
	s := &soils.Survey{Areas: o.pack.Info.Areas}
	for _, u := range o.pack.Survey().Units {
		// A polygon's map unit that the tables do not have; it stands in the pack so that its ground is measured, but has nothing to say.
		if u.Undescribed {
			continue
		}
		whole, err := o.pack.Unit(u.Key)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", o.name, err)
		}
		s.Units = append(s.Units, whole)
	}
	return s, nil
}

// checkPack says what a pack is and reads all of it.
func checkPack(ctx context.Context, o *opened, out io.Writer) error {
	tellPack(out, o.name, o.pack.Info)
	if err := surveyList(o.pack.Survey(), out); err != nil {
		return err
	}
	if err := o.pack.Verify(ctx); err != nil {
		return fmt.Errorf("%s: %w", o.name, err)
	}
	_, err := fmt.Fprintln(out, "  every checksum is right")
	return err
}

// tellPack says what a pack is, from its manifest alone.
func tellPack(out io.Writer, path string, info surveypack.Info) {
	var from []string
	for _, s := range info.Sources {
		from = append(from, s.Path)
	}
	fmt.Fprintf(out, "%s: survey pack, made %s by %s from %s\n", path, info.Made, info.Program, strings.Join(from, ", "))
	fmt.Fprintf(out, "  %9s map unit polygons\n  %9s map units\n", export.Thousands(info.Polygons), export.Thousands(info.Units))
}
