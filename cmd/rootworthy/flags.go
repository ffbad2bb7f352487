package main

import (
	"errors"
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/pflag"
)

// newFlags returns a flag set whose help is the given text alone, so that it stays one screen and begins with an
// example.
func newFlags(name, help string, out io.Writer) *pflag.FlagSet {
	fl := pflag.NewFlagSet(name, pflag.ContinueOnError)
	// Help is the text alone; so the library prints no list of flags, and no message beside ours.
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

// notZero refuses a typed 0 where 0 means that the flag was left out.
// Flags that hold no number are passed over; all that are wrong are told at once.
func notZero(fl *pflag.FlagSet, names ...string) error {
	var errs []error
	for _, name := range names {
		if v, err := strconv.ParseFloat(fl.Lookup(name).Value.String(), 64); fl.Changed(name) && err == nil && v == 0 {
			errs = append(errs, fmt.Errorf("--%s: 0 is not possible; give a number above it, or leave the flag out", name))
		}
	}
	return errors.Join(errs...)
}

// together refuses typed flags that say nothing without another one.
// A flag that has its default counts as not there; one that the settings filled counts as typed.
func together(fl *pflag.FlagSet, with, what string, names ...string) error {
	// It is there, whoever set it, and the others have something to refer to.
	if fl.Lookup(with).Value.String() != fl.Lookup(with).DefValue {
		return nil
	}
	for _, name := range names {
		if fl.Changed(name) {
			return fmt.Errorf("--%s needs %s: add --%s", name, what, with)
		}
	}
	return nil
}
