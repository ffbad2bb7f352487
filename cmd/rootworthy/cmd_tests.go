package main

import (
	"context"
	"fmt"

	"rootworthy/export/words"
	"rootworthy/internal/diag"
)

const testsHelp = `  rootworthy tests check results.csv
  rootworthy tests check results.xlsx --save-mapping lab.toml
  rootworthy tests check results.csv --mapping lab.toml

Reads a laboratory's file and says, column by column, what it was taken for,
what was taken for granted, what is not used and what to ask the laboratory; then
the layers, where the samples come from, and which lime methods have what they
need. Nothing is guessed: a buffer pH without its buffer is refused.

CSV and TSV of any laboratory, .xlsx, Modus XML and JSON. A header that always
works (leave out what you have not):
  sample_id,field_id,zone_id,lon,lat,top_cm,bottom_cm,date,ph_water,ph_cacl2,
  buffer_ph_mehlich,buffer_ph_adams_evans,buffer_ph_sikora,buffer_ph_smp,
  exch_acidity_mehlich_meq,lbc_ppm_ph,lbceq_ppm_ph,p_m3_ppm,k_m3_ppm,lab

  --save-mapping FILE  write what was understood, to fill in and use again
  --mapping FILE       read the file that way
`

// tests shows what was understood of laboratory files, column by column, before anything rests on them. The mapping that it saves holds what
// the file leaves open, for the user to answer once.
func tests(_ context.Context, args []string, std stdio) error {
	var save, mapping string
	fl := newFlags("tests", testsHelp, std.out)
	fl.StringVar(&save, "save-mapping", "", "")
	fl.StringVar(&mapping, "mapping", "", "")
	if err := parse(fl, args); err != nil {
		return err
	}
	if fl.NArg() < 2 || fl.Arg(0) != "check" {
		return usagef("tests has one task: `rootworthy tests check FILE`")
	}
	files := fl.Args()[1:]
	// A mapping is of the columns of one laboratory's file.
	if save != "" && len(files) > 1 {
		return usagef("--save-mapping takes one file at a time")
	}
	var faults diag.List
	// The very reader of screen, so what is shown here is what a screening will take.
	f := testFlags{tests: files, mapping: mapping}
	g, err := f.open(&faults)
	if err != nil {
		return err
	}
	for i, r := range g.results {
		if i > 0 {
			fmt.Fprintln(std.out)
		}
		if err := words.Understood(std.out, files[i], r); err != nil {
			return err
		}
	}
	if save != "" {
		if err := writeNew(save, g.results[0].Understood.Mapping().Write); err != nil {
			return err
		}
		fmt.Fprintf(std.out, "\nwrote %s; fill in what is open, and read the file with --mapping %s\n", save, save)
	}
	return tellFaults(&faults, std)
}
