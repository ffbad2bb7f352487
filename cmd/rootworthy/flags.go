package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/pflag"
)

// newFlags returns a flag set whose help is the given text alone, so that it stays one screen and begins with an
// example.
func newFlags(name, help string, out io.Writer) *pflag.FlagSet {
	fl := pflag.NewFlagSet(name, pflag.ContinueOnError)
	fl.SortFlags = false
	fl.SetOutput(io.Discard)
	fl.Usage = func() { fmt.Fprint(out, help) }
	return fl
}

// parse parses args; a wrong flag is a usage error that says where help is.
func parse(fl *pflag.FlagSet, args []string) error {
	err := fl.Parse(args)
	if err == nil || errors.Is(err, pflag.ErrHelp) {
		return err
	}
	return usagef("%v; `rootworthy %s --help` lists the flags", err, fl.Name())
}
