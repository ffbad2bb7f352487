package xmlscan

import (
	"errors"
	"fmt"
	"io"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

// Ending says how far the reading of a file came.
type Ending struct {
	Name   string // what the user called the file
	Format string // as in "is no KML"
	Thing  string // one of what the file holds, as in "feature"
	Kept   int    // how many were handed on
	Fix    string // what to do about a file that breaks off
}

// Tell puts the error that reading ended with into words. It returns why nothing could be read. Where damage came after
// something was handed on, it adds a fault and returns nil: what stands before the break is kept.
func (e Ending) Tell(err error, faults *diag.List) error {
	var damage *Error
	switch {
	case err == nil:
		return nil
	case errors.Is(err, io.EOF):
		return fmt.Errorf("%s: is no %s: there is no element in it", e.Name, e.Format)
	case !errors.As(err, &damage):
		return fmt.Errorf("%s: %w", e.Name, err)
	case e.Kept == 0:
		return fmt.Errorf("%s:%d: %s; it cannot be read as %s", e.Name, damage.Line, damage.What, e.Format)
	}
	faults.Add(diag.Fault{File: e.Name, Line: damage.Line, Kind: "damaged", What: damage.What + "; " + feature.Kept(e.Kept, e.Thing), Fix: e.Fix})
	return nil
}
