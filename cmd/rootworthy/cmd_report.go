package main

import (
	"context"
	"fmt"
	"path"
	"slices"
	"strings"

	"rootworthy/export/mapdraw"
	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	"rootworthy/suitability/sampling"
	"rootworthy/suitability/uncertainty"
)

const reportHelp = `  rootworthy report run --out report
  rootworthy report run --out report --for consultant --compare F1,F2
  rootworthy report run --out letters --for landowner --each customer

Makes reports of a run, each as PDF to print and as one HTML page to read or send:
landowner    the answer, a map, zone by zone what to do, lime, calendar, tests
consultant   fields by rank, reasons by area, small maps, what would change it
technician   rates, totals, files, checks

RUN is the folder that screen wrote. Everything is taken from it as it stands.
  --out DIR        folder of the reports; older reports in it are replaced
  --for READER     landowner, consultant, technician, or all (the default)
  --paper SIZE     letter (the default) or a4
  --maps svg,png   maps as files besides: class, lime and pH of each field
  --compare F1,F2  two fields side by side, by id, for the consultant
  --field ID       this field alone; repeat it for more. --customer NAME likewise
  --each WHAT      a folder for each customer, or for each field
  --elevation FILE.tif  slopes in shade on the maps; --elevation-unit ft or m
  --tests FILE     laboratory's file, for magnesium; --mapping as for screen,
                   --magnesium-region Piedmont or "Coastal Plain"
  --brief          answers, totals and ranks alone; for runs of many fields
`

// reportFlags are the flags of report as typed.
type reportFlags struct {
	out, paper string
	reader     string // one of [readers], or "all"
	maps       string // kinds of pictures, with commas; "" for none as files
	compare    string // two ids of fields, with a comma
	each       string // "field", "customer" or ""

	elevation, elevationUnit string // for the relief under the maps

	// Magnesium is not in a run; it is read from the laboratory's file again, and rated by region.
	tests  testFlags
	region string

	chosen fieldChoice
	brief  bool
}

// readers lists whom a report can be for, in the order of the help.
func readers() []string { return []string{"landowner", "consultant", "technician"} }

// runReport writes reports from a run folder alone, as it stands: what they say is what screen found, however old.
func runReport(ctx context.Context, args []string, std stdio) error {
	var f reportFlags
	fl := newFlags("report", reportHelp, std.out)
	fl.StringVar(&f.out, "out", "", "")
	fl.StringVar(&f.reader, "for", "all", "")
	fl.StringVar(&f.paper, "paper", "letter", "")
	fl.StringVar(&f.maps, "maps", "", "")
	fl.StringVar(&f.compare, "compare", "", "")
	fl.StringVar(&f.each, "each", "", "")
	fl.StringVar(&f.elevation, "elevation", "", "")
	fl.StringVar(&f.elevationUnit, "elevation-unit", "", "")
	fl.StringArrayVar(&f.tests.tests, "tests", nil, "")
	fl.StringVar(&f.tests.mapping, "mapping", "", "")
	fl.StringVar(&f.region, "magnesium-region", "", "")
	f.chosen.declare(fl)
	fl.BoolVar(&f.brief, "brief", false, "")
	if err := parse(fl, args); err != nil {
		return err
	}
	switch {
	case fl.NArg() != 1:
		return usagef("report needs one run: `rootworthy report RUN --out DIR`")
	case f.out == "":
		return usagef("no place for the reports given; add --out DIR")
	}
	w, err := f.plan()
	if err != nil {
		return err
	}
	dir := fl.Arg(0)
	r, err := openRun(dir)
	if err != nil {
		return err
	}
	tellEdited(std.err, dir, r)
	if w.opt.Files, err = runFiles(dir); err != nil {
		return err
	}
	var faults diag.List
	if w.opt.Magnesium, err = f.magnesium(r, &faults); err != nil { // before fields are left out, so that their samples are no strangers
		return err
	}
	if r, err = f.chosen.of(r); err != nil {
		return err
	}
	// Chances are worked out once for all that is told, so that a field has the same ones in every part.
	if w.parts, err = f.parts(r, uncertainty.Of(r, uncertainty.Options{})); err != nil {
		return err
	}
	shading, err := openShading(ctx, f.elevation, f.elevationUnit, r, &faults)
	if err != nil {
		return err
	}
	w.shade(shading)
	if err := w.make(ctx, f.out, r); err != nil {
		return err
	}
	w.tell(std, f.out)
	return tellFaults(&faults, std)
}

// shade lays the light on the ground under the maps; nil leaves them as they are.
func (w *reportWork) shade(s *job.Shading) {
	if s == nil {
		return
	}
	w.opt.Shade = s.Light
	// Flat ground is drawn steeper than it is, or no relief would show; a map that does so must say it.
	if s.Exaggeration > 1 {
		w.opt.ShadeNote = fmt.Sprintf("Heights are taken %g times as high as they are.", s.Exaggeration)
	}
}

// tell says what was written.
func (w *reportWork) tell(std stdio, out string) {
	fmt.Fprintf(std.out, "Written to %s\n", out)
	// With --each even a single part has a folder of its own.
	if len(w.parts) > 1 || w.parts[0].folder != "" {
		fmt.Fprintf(std.out, "  %s, a folder each, from %s\n", words.Count(len(w.parts), "report", "reports"), w.parts[0].folder)
	} else {
		for _, d := range w.documents {
			fmt.Fprintf(std.out, "  %-18s %s\n  %-18s the same to print\n", d.name+".html", d.doc.Title, d.name+".pdf")
		}
	}
	if w.drawn > 0 {
		fmt.Fprintf(std.out, "  %s\n", words.Count(w.drawn, "map", "maps"))
	}
}

// plan turns flags into work; what cannot be meant is a wrong command line.
func (f *reportFlags) plan() (*reportWork, error) {
	w := &reportWork{opt: report.Options{Brief: f.brief}}
	switch {
	case f.reader == "all":
		w.readers = readers()
	case slices.Contains(readers(), f.reader):
		w.readers = []string{f.reader}
	default:
		return nil, usagef("--for: %q is no reader%s", f.reader, nearest(f.reader, append(readers(), "all")))
	}
	var err error
	if w.paper, err = paperOf(f.paper); err != nil {
		return nil, err
	}
	for _, kind := range splitList(f.maps) {
		if kind != "svg" && kind != "png" {
			return nil, usagef("--maps: %q is no kind of picture; there are svg and png", kind)
		}
		if !slices.Contains(w.kinds, kind) {
			w.kinds = append(w.kinds, kind)
		}
	}
	if f.each != "" && f.each != "customer" && f.each != "field" {
		return nil, usagef("--each: %q is nothing to divide by; there are customer and field", f.each)
	}
	// Both fields of a comparison stand in one part of the run, and --each would take them apart.
	if f.each != "" && f.compare != "" {
		return nil, usagef("--compare sets two fields into one report; leave --each out")
	}
	if f.compare != "" {
		pair := splitList(f.compare)
		if len(pair) != 2 {
			return nil, usagef("--compare: %q does not name two fields; write --compare F1,F2", f.compare)
		}
		if pair[0] == pair[1] {
			return nil, usagef("--compare: %q is one field, set beside itself; name two", pair[0])
		}
		if !slices.Contains(w.readers, "consultant") {
			return nil, usagef("--compare is for the consultant's report; add --for consultant, or leave --for out")
		}
		// Whether there are such fields is known only with the run.
		w.opt.Compare = [2]string(pair)
	}
	return w, nil
}

// splitList takes a list apart at its commas.
func splitList(s string) []string {
	var out []string
	for _, p := range strings.Split(s, ",") {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, p)
		}
	}
	return out
}

// mapKinds are the maps that are written as files.
func mapKinds() []mapdraw.Kind {
	return []mapdraw.Kind{mapdraw.Class, mapdraw.Lime, mapdraw.SurfacePH, mapdraw.SubsoilPH}
}

// documentsOf builds the reports that are wanted of a part of a run.
func documentsOf(ctx context.Context, p part, names []string, opt report.Options) (out []named, err error) {
	// opt is a copy, so what one part sets does not reach the next.
	opt.Study = p.study
	for _, n := range names {
		d := named{name: path.Join(p.folder, n)}
		switch n {
		case "landowner":
			d.doc = report.Landowner(p.run, opt)
		case "consultant":
			// Only the consultant's report tells which test would change a rating, and finding that out takes a while.
			if opt.Sampling, err = sampling.New(ctx, p.run, sampling.Options{}); err != nil {
				return nil, err
			}
			if d.doc, err = report.Consultant(p.run, opt); err != nil {
				return nil, fmt.Errorf("--compare: %w", err)
			}
		case "technician":
			d.doc = report.Technician(p.run, opt)
		}
		out = append(out, d)
	}
	return out, nil
}
