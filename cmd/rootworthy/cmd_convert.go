package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"

	"rootworthy/export"
	"rootworthy/export/exchange"
	"rootworthy/export/words"
	"rootworthy/internal/atomicfile"
	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

const convertHelp = `  rootworthy convert run --to shapefile,xlsx --out zones
  rootworthy convert run --to geopackage --tests lab.csv --out zones
  rootworthy convert run --to cog --cell 5m --out zones

Writes the zones of a run for other programs, all from one table. RUN is the --out
of screen. Lime figures from a soil survey alone are a budget; every file says so.

  --to FORMATS    one or more, with commas, or all:
%s  --out DIR       where to write; converted files in it are replaced
  --cell 10m      side of a raster's cells, metres or feet (33ft); larger by
                  itself where fields lie far apart
  --tests FILE    the laboratory's file, for the places of its samples
                  (may be repeated); --mapping FILE as for screen
  --byte-mark     begin zones.csv with a byte order mark, as some spreadsheets want
  --workers N     files at a time; default: one per processor
`

// convertFlags are the flags of convert as typed.
type convertFlags struct {
	to, out  string   // formats, with commas
	cell     string   // side of a raster's cells with its unit; "" for the usual
	byteMark bool     // begin the CSV with a byte order mark
	workers  int      // files at once; 0 means one per processor
	tests    []string // laboratory files, for the places of the samples alone
	mapping  string
}

// convert carries out the verb convert. Its help lists the formats from the package that writes them, so that none is forgotten.
func convert(ctx context.Context, args []string, std stdio) error {
	var f convertFlags
	fl := newFlags("convert", fmt.Sprintf(convertHelp, formatList()), std.out)
	fl.StringVar(&f.to, "to", "", "")
	fl.StringVar(&f.out, "out", "", "")
	fl.StringVar(&f.cell, "cell", "", "")
	fl.StringVar(&f.mapping, "mapping", "", "")
	fl.StringArrayVar(&f.tests, "tests", nil, "")
	fl.BoolVar(&f.byteMark, "byte-mark", false, "")
	fl.IntVar(&f.workers, "workers", 0, "")
	if err := parse(fl, args); err != nil {
		return err
	}
	switch {
	case fl.NArg() != 1:
		return usagef("convert needs one run: `rootworthy convert RUN --to FORMATS --out DIR`")
	// No format is taken for granted: what other programs want differs, and all of them at once is a word of its own (all).
	case f.to == "":
		return usagef("no format given; add --to with one or more of %s", strings.Join(exchange.FormatNames(), ", "))
	case f.out == "":
		return usagef("no place for the files given; add --out DIR")
	}
	if err := together(fl, "tests", "soil tests", "mapping"); err != nil {
		return usagef("%v", err)
	}
	o, err := f.options()
	if err != nil {
		return err
	}
	return f.make(ctx, fl.Arg(0), o, std)
}

// formatList is the part of the help that lists formats.
func formatList() string {
	var b strings.Builder
	for _, f := range exchange.Formats() {
		fmt.Fprintf(&b, "      %-11s %s\n", f.Name, f.About)
	}
	return b.String()
}

// options turns flags into options; what cannot be meant is a wrong command line.
func (f *convertFlags) options() (exchange.Options, error) {
	// Nothing is chosen for the user here: a format that is not named is not written.
	o := exchange.Options{ByteMark: f.byteMark, Version: version}
	for _, name := range splitList(f.to) {
		switch {
		case name == "all":
			o.Formats = exchange.FormatNames()
		case !slices.Contains(exchange.FormatNames(), name):
			return o, usagef("--to: %q is no format%s", name, nearest(name, append(exchange.FormatNames(), "all")))
		default:
			o.Formats = append(o.Formats, name)
		}
	}
	if len(o.Formats) == 0 {
		return o, usagef("--to: %q names no format; there are %s", f.to, strings.Join(exchange.FormatNames(), ", "))
	}
	cell, err := cellOf(f.cell)
	if err != nil {
		return o, usagef("%v", err)
	}
	o.Cell = cell
	return o, nil
}

// cellOf reads "10m" or "33ft"; a bare number is metres, as rasters usually are.
// Elsewhere a bare number is feet (see lengthOf), and a cell of 10 feet where 10 m were meant would make a raster of ten times the size.
func cellOf(s string) (unit.Length, error) {
	if s != "" && strings.Trim(s, "0123456789.") == "" {
		s += "m"
	}
	return lengthOf("cell", s)
}

// make writes the folder: whole, or as it was.
func (f *convertFlags) make(ctx context.Context, dir string, o exchange.Options, std stdio) error {
	r, err := openRun(dir)
	if err != nil {
		return err
	}
	tellEdited(std.err, dir, r)
	var faults diag.List
	if len(f.tests) > 0 {
		if o.Places, err = f.places(&faults); err != nil {
			return err
		}
	}
	set, err := exchange.New(ctx, r, words.Sentences(r.Profile), o)
	if err != nil {
		return fmt.Errorf("%s: %w", dir, err)
	}
	workers := f.workers
	if workers < 1 {
		workers = runtime.GOMAXPROCS(0)
	}
	// The folder fills many files at once; --workers bounds how many, for rasters and workbooks take memory.
	// A seat is taken before a file is begun and given back when it is whole.
	seats := make(chan struct{}, workers)
	folder := atomicfile.Folder{Dir: f.out, Files: set.Files(), Marked: exchange.Ours, Stale: exchange.MayBeOurs}
	if err := folder.Write(func(name string, w io.Writer) error {
		seats <- struct{}{}
		defer func() { <-seats }()
		return set.WriteFile(ctx, name, w)
	}); err != nil {
		return err
	}
	if err := tellConvert(std.out, set, f.out); err != nil {
		return err
	}
	return tellFaults(&faults, std)
}

// tellConvert prints what was written and what it adds up to.
func tellConvert(w io.Writer, s *exchange.Set, out string) error {
	var b strings.Builder
	// The totals are printed so that they can be held against those of the program that reads the files.
	area, lime := s.Totals()
	zones, limed := s.Untested()
	fmt.Fprintf(&b, "%s zones of %s acres, %s short tons of lime: the same in every file.\n", export.Thousands(s.Zones()), export.Thousands(int(area.Acres()+0.5)), tons(lime.ShortTons()))
	// A rate from the survey must not be spread because it came in another format: the warning goes with it.
	if zones > 0 {
		fmt.Fprintf(&b, "Lime of %d of %d zones that need any rests on the soil survey alone: a budget, not a\nrate to spread. Every file says so.\n", zones, limed)
	}
	for _, n := range s.Notes {
		b.WriteString("note: " + n + "\n")
	}
	fmt.Fprintf(&b, "Written to %s:\n", out)
	for _, name := range s.Files() {
		b.WriteString("  " + name + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}
