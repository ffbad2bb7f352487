package main

import (
	"context"
	"fmt"
	"io"

	"rootworthy/export/changes"
	"rootworthy/internal/atomicfile"
	"rootworthy/suitability/change"
)

const compareHelp = `  rootworthy compare last-year this-year
  rootworthy compare survey tested --out changes.csv

Says what changed from one run to another: ground that is of another class and
what limited it, pH and lime, ground that one of them has alone. Zones are laid on
each other, so numbers, names and soils may be others, zones may have been split
by tests, and fields renamed, split or joined. Both are folders that screen wrote.

  --out FILE    every zone with each zone of the other run that it lies on, and
                their acres, as CSV; a file that is there is replaced

Ground in parts under a twentieth of an acre, or less than a metre wide, is not
told as changed. ` + "`rootworthy view`" + ` with both runs shows the same as a page.
`

// compareRuns carries out the verb compare.
func compareRuns(ctx context.Context, args []string, std stdio) error {
	fl := newFlags("compare", compareHelp, std.out)
	out := fl.String("out", "", "")
	if err := parse(fl, args); err != nil {
		return err
	}
	if fl.NArg() != 2 {
		return usagef("compare needs two runs: `rootworthy compare RUN RUN`")
	}
	a, err := openRun(fl.Arg(0))
	if err != nil {
		return err
	}
	b, err := openRun(fl.Arg(1))
	if err != nil {
		return err
	}
	// The first is the one before, as the help has it; dates are not looked at, since a run need not have one.
	c, err := change.Compare(ctx, a, b)
	if err != nil {
		return err
	}
	if *out != "" {
		// Before anything is printed: who reads the sentences may take it that the table is there.
		if err := atomicfile.Write(*out, func(w io.Writer) error { return changes.WriteCSV(w, c) }); err != nil {
			return err
		}
	}
	names := [2]string{baseName(fl.Arg(0)), baseName(fl.Arg(1))}
	if names[0] == names[1] { // runs of one name in two folders: then the whole path tells them apart
		names = [2]string{fl.Arg(0), fl.Arg(1)}
	}
	if err := changes.WriteText(std.out, c, names, width(std.out)); err != nil {
		return err
	}
	if *out != "" {
		_, err = fmt.Fprintf(std.out, "\nWritten to %s\n", *out)
	}
	return err
}
