package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rootworthy/export/taskdata"
	"rootworthy/soils/unit"
)

// options turns flags into the options of a plan; what is out of range is a wrong command line.
func (f *spreadFlags) options() (taskdata.Options, error) {
	o := taskdata.Options{Version: f.version, Fields: f.fields, Product: f.product, Customer: f.customer, Farm: f.farm, Display: f.display,
		UntestedReason: f.untested, MaxCells: f.maxCells, Workers: f.workers, Software: version}
	// What is wrong with single flags is told together; what does not fit together is only asked of flags that are right.
	var errs []error
	keep := func(err error) {
		if err != nil {
			errs = append(errs, err)
		}
	}
	form, err := oneOf("zones", f.zones, "grid2", "grid1", "polygons")
	keep(err)
	o.Form = taskdata.Form(form)
	per, err := oneOf("per", f.per, "field", "farm")
	keep(err)
	o.PerFarm = per == 1
	_, err = oneOf("layout", f.layout, "folder", "zip", "card")
	keep(err)
	o.Pass, err = passOf(f.pass)
	keep(err)
	o.Machine, err = f.machine()
	keep(err)
	if len(errs) == 0 {
		keep(o.Check())
	}
	if err := errors.Join(errs...); err != nil {
		return o, usagef("%v", err)
	}
	return o, nil
}

// machine is what the spreader can do.
func (f *spreadFlags) machine() (m taskdata.Machine, err error) {
	edge, err := oneOf("headland-lime", f.headlandLime, "mean", "none")
	m = taskdata.Machine{Least: unit.ShortTonsPerAcre(f.minRate), Most: unit.ShortTonsPerAcre(f.maxRate), Step: unit.ShortTonsPerAcre(f.rateStep),
		Smallest: unit.Acres(f.smallest), Hopper: unit.Mass(f.hopper) * unit.ShortTon, Edge: taskdata.HeadlandLime(edge)}
	var e1, e2, e3 error
	m.Width, e1 = lengthOf("width", f.width)
	m.Headland, e2 = lengthOf("headland", f.headland)
	m.Tray, e3 = trayOf(f.tray)
	return m, errors.Join(err, e1, e2, e3)
}

// oneOf returns the place of a word among those that a flag takes.
// The order of the words at each call is that of the constants they stand for, whose first is the usual one.
func oneOf(flag, word string, words ...string) (int, error) {
	if i := slices.Index(words, word); i >= 0 {
		return i, nil
	}
	return 0, fmt.Errorf("--%s: %q is not known; choose from %s", flag, word, strings.Join(words, ", "))
}

// passOf reads --pass: yearly passes are counted from 1, the first year's.
// All is a constant of its own: 0 in the options means the first pass.
func passOf(s string) (int, error) {
	if s == "all" {
		return taskdata.AllPasses, nil
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 {
		return 0, fmt.Errorf("--pass: %q is not a pass; give 1, 2 … or all", s)
	}
	return n, nil
}

// lengthOf reads "60", "60ft" or "18m"; a bare number is feet, and nothing is zero.
func lengthOf(flag, s string) (unit.Length, error) {
	if s == "" {
		return 0, nil
	}
	// The international foot, exactly.
	number, scale := strings.TrimSpace(s), 0.3048
	if n, ok := strings.CutSuffix(number, "ft"); ok {
		number = n
	} else if n, ok := strings.CutSuffix(number, "m"); ok {
		number, scale = n, 1
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if err != nil || !(x > 0) {
		return 0, fmt.Errorf("--%s: %q is not a length; give feet (60) or metres (18m)", flag, s)
	}
	return unit.Length(x * scale), nil
}

// trayOf reads "20x20" in inches or "50x50cm".
func trayOf(s string) (unit.Area, error) {
	if s == "" {
		return 0, nil
	}
	// The international inch, exactly.
	sides, scale := strings.TrimSuffix(s, "in"), 0.0254
	if n, ok := strings.CutSuffix(s, "cm"); ok {
		sides, scale = n, 0.01
	}
	a, b, ok := strings.Cut(sides, "x")
	x, err1 := strconv.ParseFloat(a, 64)
	y, err2 := strconv.ParseFloat(b, 64)
	if !ok || err1 != nil || err2 != nil || !(x > 0 && y > 0) {
		return 0, fmt.Errorf("--tray: %q is not an opening; give inches (20x20) or centimetres (50x50cm)", s)
	}
	return unit.Area(x * y * scale * scale), nil
}
