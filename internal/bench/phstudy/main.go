// Command phstudy holds a survey's pH against that of laboratories: how far off it is, how often a test lies in the survey's range, and
// how often both put the ground into the same class.
//
//	go run ./internal/bench/phstudy -survey FOLDER -tests lab.csv                     tests with coordinates
//	go run ./internal/bench/phstudy -survey FOLDER -fields fields.geojson -tests …    tests by field or zone too
//	go run ./internal/bench/phstudy -shared FOLDER                                    which of a folder of data sets meet at all
//
// A survey says what a soil is like where it is undisturbed or as usually farmed; a test says what one bag of it was. So what is
// measured is the survey as a stand-in for a test, with all that lime, litter and years have done, not an error of the survey.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"

	"rootworthy/internal/diag"
)

func main() {
	var in input
	flag.StringVar(&in.survey, "survey", "", "survey export, folder or zip")
	flag.StringVar(&in.fields, "fields", "", "boundaries, for tests that name a field or zone; without it tests are placed by coordinates")
	flag.StringVar(&in.mapping, "mapping", "", "how to read the tests, as saved by tests check")
	flag.Float64Var(&in.depth, "depth", 20, "cm, how deep a sample was taken whose file does not say; 0 leaves such samples out")
	seed := flag.Uint64("seed", 1, "of the bootstrap")
	draws := flag.Int("draws", 2000, "of the bootstrap")
	shared := flag.String("shared", "", "folder of open data sets: which tests lie on which survey")
	flag.Func("tests", "laboratory's file; may be repeated", func(s string) error { in.tests = append(in.tests, s); return nil })
	flag.Parse()
	err := run(context.Background(), os.Stdout, in, *shared, *seed, *draws)
	if err != nil {
		fmt.Fprintln(os.Stderr, "phstudy:", err)
		os.Exit(1)
	}
}

// run prints the faults of reading first: figures mean nothing without them.
func run(ctx context.Context, out io.Writer, in input, shared string, seed uint64, draws int) error {
	if shared != "" {
		return inventory(ctx, out, shared)
	}
	if in.survey == "" || len(in.tests) == 0 {
		return fmt.Errorf("give -survey and -tests, or -shared")
	}
	var faults diag.List
	s, err := in.open(ctx, &faults)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(out, "%s", &faults); err != nil {
		return err
	}
	return s.report(out, seed, draws)
}
