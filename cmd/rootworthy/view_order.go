package main

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/web"
	"rootworthy/soils/lab"
	"rootworthy/suitability"
)

// ordered returns the flags as an order of the page changes them: its tests stand in the place of those of the command
// line, and say how lime is worked out; without tests everything stays as typed.
func (f *viewFlags) ordered(o web.Order) *viewFlags {
	// A copy, since the flags as typed must stay for the next order.
	g := *f
	if len(o.Tests) == 0 {
		return &g
	}
	g.tests = nil
	for _, t := range o.Tests {
		g.tests = append(g.tests, t.Name)
	}
	g.mapping = ""
	if o.Mapping != nil {
		g.mapping = o.Mapping.Name
	}
	g.method, g.state, g.targetPH, g.interpolate = o.Lime.Method, o.Lime.State, o.Lime.TargetPH, o.Lime.Interpolate
	if g.interpolate == "" || g.splitBy == "lime" && g.method == "" { // zones cannot be split along a surface that is not made
		g.splitZones, g.splitBy, g.spreadWidth = 0, "", ""
	}
	return &g
}

// check says what of an order cannot be meant, in the words of the command line.
func (f *viewFlags) check(o web.Order) error {
	profile, _, err := openProfile(f.profile, &diag.List{})
	if err != nil {
		return err
	}
	_, err = f.ordered(o).options(profile)
	return err
}

// given reads the tests that hold: those of the order, else those of the command line.
func (f *viewFlags) given(o web.Order, faults *diag.List) (given, error) {
	if len(o.Tests) == 0 {
		return f.testFlags.open(faults)
	}
	// Opened without files first: what is asked of a method, and its table, come from the command line still.
	typed := f.testFlags
	typed.tests, typed.mapping = nil, ""
	g, err := typed.open(faults)
	if err != nil {
		return g, err
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
		g.add(r)
	}
	return g, nil
}

// record lists the options of an order among those of the command line.
func record(typed []suitability.Option, f *viewFlags, o web.Order) []suitability.Option {
	if len(o.Tests) == 0 {
		return typed
	}
	target := ""
	if f.targetPH != 0 {
		target = strconv.FormatFloat(f.targetPH, 'g', -1, 64)
	}
	changed := []suitability.Option{{Name: "interpolate", Value: f.interpolate}, {Name: "lime-method", Value: f.method}, {Name: "mapping", Value: f.mapping},
		{Name: "state", Value: f.state}, {Name: "target-ph", Value: target}, {Name: "tests", Value: strings.Join(f.tests, ", ")}}
	// The order has no surface to split along, so splits that were typed are not in force and leave the record: an option without a value
	// is taken out below.
	if f.splitZones == 0 {
		changed = append(changed, suitability.Option{Name: "split-zones"}, suitability.Option{Name: "split-by"}, suitability.Option{Name: "spread-width"})
	}
	out := slices.DeleteFunc(slices.Clone(typed), func(x suitability.Option) bool {
		return slices.ContainsFunc(changed, func(c suitability.Option) bool { return c.Name == x.Name })
	})
	for _, c := range changed {
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
