package main

import (
	"errors"
	"fmt"
	"io"

	"rootworthy/export/taskdata"
	"rootworthy/internal/web"
)

// spreadOptions reads what a page says of a spreader as spread reads its flags: what is not given is as usual, and what cannot be meant
// is told in the same words.
func spreadOptions(typed []web.Setting) (taskdata.Options, error) {
	var f spreadFlags
	fl := newFlags("spread", "", io.Discard)
	// The usual values come with the declaration, so page and command line cannot differ in them.
	f.declare(fl)
	var errs []error
	for _, t := range typed {
		flag := fl.Lookup(t.Name)
		switch {
		case flag == nil:
			errs = append(errs, fmt.Errorf("--%s is no flag of spread", t.Name))
		case fl.Set(t.Name, t.Value) != nil: // a text is always set, so it is a number
			errs = append(errs, fmt.Errorf("--%s: %q is not a number", t.Name, t.Value))
		}
	}
	o, err := f.options()
	return o, errors.Join(append(errs, err)...)
}
