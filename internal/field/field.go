package field

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/arrange"
	"rootworthy/soils/unit"
)

// Field is one boundary from the user.
type Field struct {
	ID       string // unique among the fields read together
	Name     string // the id when the file gives none
	Customer string // the owner, from the property the user names
	Farm     string // likewise

	Attributes []Attribute      // all the user's, in the order of the file, as read
	Shape      orb.MultiPolygon // longitude, latitude; valid, outer rings counter-clockwise; empty when there is Trouble
	Drained    bool             // the attribute "drained" says yes: drainage works are there
	Excluded   unit.Area        // ground cut out of the boundary by Options.Exclude
	Repairs    []string         // what was repaired, in words
	Report     arrange.Report   // what was repaired, in numbers (areas in square degrees)
	Trouble    string           // why it cannot be used; empty when it can

	File  string // as the user named it
	Index int    // place in its file, from 0
	Line  int    // in its file, from 1; 0 in files without lines
}

// Attribute is one property of a field.
type Attribute struct {
	Name  string
	Value json.RawMessage // valid JSON: a number keeps its digits, a blank cell is null
}

// Source is one file of boundaries, or of ground to exclude.
type Source struct {
	Name  string // as the user named it; stands in messages
	Files fs.FS  // the folder it stands in: the parts of a shapefile are looked for there
	Path  string // of the file in Files
	Layer string // which layer of a database, or file of a zip, with several; empty when there is one
}

// Options tunes Read; the zero value reads boundaries that say everything about themselves.
type Options struct {
	ID       string   // property that holds the id; empty: see Read
	Customer string   // property that holds the owner; empty: owners stay empty
	Farm     string   // property that holds the farm; empty: farms stay empty
	CRS      string   // reference system of all files, such as "EPSG:26915"; empty: each file says
	Exclude  []Source // ground to cut out of the fields: set-backs, waters
	Workers  int      // goroutines; 0 means one per CPU
}

// Read reads the boundaries of all sources, in their order.
//
// The id of a field is the property Options.ID; else the feature's own id, if all have one; else the first of the
// properties field_id, id, field, name that all have and in which no two are alike. Where several files agree on none, each file is asked by
// itself, and its choice counts when no two ids of all files are alike; else 1…n. An id that is given twice is a fault, and the later field
// gets " (2)" behind it.
//
// Fields that cannot be used stay in the list, with Trouble. The error names each file that cannot be read at all, or
// whose coordinates cannot be placed; then nothing is returned.
func Read(ctx context.Context, sources []Source, opt Options, faults *diag.List) ([]Field, error) {
	// Both are read before either error is returned, so that a wrong file of fields and a wrong set-back are told in one go.
	drawn, err := readAll(ctx, sources, opt, faults)
	holes, holesErr := readAll(ctx, opt.Exclude, opt, faults)
	if err := errors.Join(err, holesErr); err != nil {
		return nil, err
	}
	// Ids come first: from here on every message names the field as its owner does.
	fields := identify(drawn, opt, faults)
	if err := mendAll(ctx, fields, drawn, opt.Workers, faults); err != nil {
		return nil, err
	}
	// After the mending, since cutting needs valid shapes; before the overlaps, since ground that was cut out overlaps
	// nothing.
	if err := exclude(ctx, fields, holes, opt, faults); err != nil {
		return nil, err
	}
	return fields, tellOverlaps(ctx, fields, opt.Workers, faults)
}

// fault returns the beginnings of a fault about the field.
func (f *Field) fault(kind, what, fix string) diag.Fault {
	return diag.Fault{File: f.File, Line: f.Line, Feature: f.ID, Ground: f.ID, Kind: kind, What: what, Fix: fix}
}

// beyond gives the field up and tells why.
func (f *Field) beyond(kind, why, fix string, faults *diag.List) {
	f.Shape, f.Trouble = nil, why
	faults.Add(f.fault(kind, why, fix))
}

// area prints an area for people.
func area(a unit.Area) string {
	return fmt.Sprintf("%s ac (%s ha)", digits(a.Acres()), digits(a.Hectares()))
}

// digits prints two decimals, more for what would be 0.00.
func digits(v float64) string {
	if v > 0 && v < 0.01 {
		return fmt.Sprintf("%.2g", v)
	}
	return fmt.Sprintf("%.2f", v)
}
