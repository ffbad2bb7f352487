package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/web"
	"rootworthy/soils/lab"
	"rootworthy/suitability"
)

// ordered returns the flags as an order of the page changes them: its tests stand in the place of those of the command
// line, and say how lime is worked out; without tests everything stays as typed. The error says which option of an earlier run means nothing to
// this program.
func (f *viewFlags) ordered(o web.Order) (*viewFlags, error) {
	// A copy, since the flags as typed must stay for the next order.
	g := *f
	if len(o.Tests) == 0 {
		return &g, nil
	}
	if o.Like != nil {
		if err := g.like(o.Like); err != nil {
			return nil, err
		}
	} else {
		g.method, g.state, g.targetPH, g.interpolate = o.Lime.Method, o.Lime.State, o.Lime.TargetPH, o.Lime.Interpolate
		if g.interpolate == "" || g.splitBy == "lime" && g.method == "" { // zones cannot be split along a surface that is not made
			g.splitZones, g.splitBy, g.spreadWidth = 0, "", ""
		}
	}
	g.tests = nil
	for _, t := range o.Tests {
		g.tests = append(g.tests, t.Name)
	}
	g.mapping = ""
	if o.Mapping != nil {
		g.mapping = o.Mapping.Name
	}
	if o.Like != nil { // the name in the record is no path; the table itself came with the order
		g.table = ""
	}
	if o.Table != nil {
		g.table = o.Table.Name
	}
	return &g, nil
}

// testOptions are the flags that say how tests are used, in the order in which a page tells them. The files themselves are told otherwise.
func testOptions() []string {
	return []string{"lime-method", "state", "target-ph", "lime-table", "residual-lime", "lime-depth", "lime-quality", "al-saturation", "from-memory", "interpolate", "split-zones", "split-by", "spread-width"}
}

// ofTests says whether an option is about tests: how they are used, or which.
func ofTests(name string) bool {
	return slices.Contains(append(testOptions(), "tests", "mapping"), name)
}

// like sets the flags about tests as a run had them, and what it left out to what is usual.
func (f *viewFlags) like(options []suitability.Option) error {
	f.testFlags, f.state, f.targetPH = testFlags{}, "", 0
	fl := newFlags("view", "", io.Discard)
	f.testFlags.declare(fl)
	fl.StringVar(&f.state, "state", "", "")
	fl.Float64Var(&f.targetPH, "target-ph", 0, "")
	var errs []error
	for _, x := range options {
		if !slices.Contains(testOptions(), x.Name) {
			continue
		}
		if err := fl.Set(x.Name, x.Value); err != nil {
			errs = append(errs, fmt.Errorf("--%s: the run has %q, which this program does not understand", x.Name, x.Value))
		}
	}
	return errors.Join(errs...)
}

// check says what of an order cannot be meant, in the words of the command line.
func (f *viewFlags) check(o web.Order) error {
	profile, _, err := openProfile(f.profile, &diag.List{})
	if err != nil {
		return err
	}
	g, err := f.ordered(o)
	if err == nil {
		_, err = g.options(profile)
	}
	return err
}

// given reads the tests that hold: those of the order, else those of the command line.
func (f *viewFlags) given(o web.Order, faults *diag.List) (given, error) {
	if len(o.Tests) == 0 {
		return f.testFlags.open(faults)
	}
	// Opened without files first: what is asked of a method, and its table, come from the command line still, unless the order has them.
	typed := f.testFlags
	typed.tests, typed.mapping = nil, ""
	if o.Table != nil {
		typed.table = ""
	}
	g, err := typed.open(faults)
	if err != nil {
		return g, err
	}
	if o.Table != nil {
		if g.ask.Table, err = readTable(o.Table.Name, o.Table.Bytes); err != nil {
			return g, err
		}
	}
	var mapping *lab.Mapping
	if o.Mapping != nil {
		if mapping, err = lab.ReadSoundMapping(o.Mapping.Name, bytes.NewReader(o.Mapping.Bytes), faults); err != nil {
			return g, err
		}
	}
	if err := f.testFlags.begin(&g); err != nil {
		return g, err
	}
	for _, t := range o.Tests {
		r, err := lab.Read(t.Name, bytes.NewReader(t.Bytes), int64(len(t.Bytes)), mapping, faults)
		if err != nil {
			return g, err
		}
		g.add(r, faults)
	}
	return g, nil
}

// record lists the options of an order among those of the command line. f are the flags as the order changed them.
func record(typed []suitability.Option, f *viewFlags, o web.Order) []suitability.Option {
	var changed []suitability.Option
	// Of an order that names its own: an empty value takes the flag out of the record, as if it had not been typed.
	if n := o.Naming; n != nil {
		changed = append(changed, suitability.Option{Name: "id", Value: n.ID}, suitability.Option{Name: "customer", Value: n.Customer}, suitability.Option{Name: "farm", Value: n.Farm})
	}
	return replaced(testRecord(typed, f, o), changed)
}

// testRecord lists the options of an order about tests in the place of those that were typed.
func testRecord(typed []suitability.Option, f *viewFlags, o web.Order) []suitability.Option {
	if len(o.Tests) == 0 {
		return typed
	}
	out := slices.DeleteFunc(slices.Clone(typed), func(x suitability.Option) bool { return o.Like != nil && ofTests(x.Name) })
	target := ""
	if f.targetPH != 0 {
		target = strconv.FormatFloat(f.targetPH, 'g', -1, 64)
	}
	changed := []suitability.Option{{Name: "interpolate", Value: f.interpolate}, {Name: "lime-method", Value: f.method}, {Name: "mapping", Value: f.mapping},
		{Name: "state", Value: f.state}, {Name: "target-ph", Value: target}, {Name: "tests", Value: strings.Join(f.tests, ", ")}}
	for _, x := range o.Like { // the rest of what that run was told of tests, as it stands in its record
		if ofTests(x.Name) && !slices.ContainsFunc(changed, func(c suitability.Option) bool { return c.Name == x.Name }) {
			changed = append(changed, x)
		}
	}
	// The order has no surface to split along, so splits that were typed are not in force and leave the record: an option without a value
	// is taken out below.
	if f.splitZones == 0 {
		changed = append(changed, suitability.Option{Name: "split-zones"}, suitability.Option{Name: "split-by"}, suitability.Option{Name: "spread-width"})
	}
	return replaced(out, changed)
}

// replaced puts options in the place of those of their names, sorted; one without a value is taken out.
func replaced(list, by []suitability.Option) []suitability.Option {
	out := slices.DeleteFunc(slices.Clone(list), func(x suitability.Option) bool {
		return slices.ContainsFunc(by, func(c suitability.Option) bool { return c.Name == x.Name })
	})
	for _, c := range by {
		if c.Value != "" {
			out = append(out, c)
		}
	}
	slices.SortFunc(out, func(a, b suitability.Option) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// apart tells boundaries that came in through a page from the rest, so that a record lists files as that of screen does.
func apart(inputs []suitability.Input) (boundaries, rest []suitability.Input) {
	for _, in := range inputs {
		if in.Role == "fields" || in.Role == roleExclude {
			boundaries = append(boundaries, in)
		} else {
			rest = append(rest, in)
		}
	}
	return boundaries, rest
}
