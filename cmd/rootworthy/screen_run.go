package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/spf13/pflag"

	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	runfolder "rootworthy/internal/run"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/season"
)

// screen carries out one screening: open, job, write, tell.
func (f *screenFlags) screen(ctx context.Context, fl *pflag.FlagSet, paths []string, std stdio) error {
	if f.out != "" {
		// Whether the folder may be written is asked first: a job can take minutes.
		if err := runfolder.Check(f.out); err != nil {
			return err
		}
	}
	var faults diag.List
	r, err := f.rate(ctx, paths, &faults, std)
	if err != nil {
		return err
	}
	// The record holds every option that was typed or set, so that anybody can make the run again and see what it was made with.
	r.Provenance.Options = optionsOf(fl)
	r.Faults = relative(faults.Kept(), slices.Concat(paths, f.survey, f.tables, f.exclude, f.tests, []string{f.elevation, f.profile, f.mapping, f.table}))
	if f.explain != "" {
		// Before anything is written: exit code 1 says that nothing was.
		if _, err := zoneOf(r, f.explain); err != nil {
			return err
		}
	}
	if f.out != "" {
		if err := ctx.Err(); err != nil {
			return context.Cause(ctx)
		}
		if err := runfolder.Write(f.out, r); err != nil {
			return err
		}
	}
	// The reasoning for one zone stands in the place of the summary, and its exit code is that of the answer: faults elsewhere in the run
	// do not concern it.
	if f.explain != "" {
		return explain(r, f.explain, std)
	}
	if err := words.Summary(std.out, r, words.SummaryOptions{Width: width(std.out), Color: isTerminal(std.out), Out: f.out}); err != nil {
		return err
	}
	if faults.Faults() > 0 {
		return errFaults
	}
	return nil
}

// rate opens everything that the command line names and runs the job.
func (f *screenFlags) rate(ctx context.Context, paths []string, faults *diag.List, std stdio) (*suitability.Result, error) {
	show, wipe := progress(std.err)
	// The line of progress goes before anything else is printed over it.
	defer wipe()
	w := work{progress: show, tests: f.testFlags.open, fields: func(faults *diag.List) ([]field.Field, []*witness, error) { return openFields(ctx, paths, f, faults) },
		settled: func(opt job.Options) { f.notices(opt, faults) }}
	return f.carryOut(ctx, w, faults)
}

// options turns flags into the job's options; what is out of range is a wrong command line.
func (f *screenFlags) options(p *suitability.Profile) (job.Options, error) {
	// All that is out of range is told at once, not one fault a call.
	opt := job.Options{Profile: p, Target: p.TargetOf(f.state), Workers: f.workers}
	opt.Lime = limeplan.Options{ECCE: unit.Percent(f.ecce), Moisture: unit.Percent(f.moisture), Cap: unit.ShortTonsPerAcre(f.cap), Months: f.months, IncludeUnsuited: f.unsuited}
	var errs []error
	// The profile has targets for some states only; a state without one is a notice (see notices), a text that is no state at all is a slip
	// of the pen.
	if f.state != "" && opt.Target.Missing && !isState(f.state) {
		errs = append(errs, fmt.Errorf("--state: %q is not the postal code of a state", f.state))
	}
	if f.targetPH != 0 {
		t, err := p.ChosenTarget(unit.PH(f.targetPH))
		if err != nil {
			errs = append(errs, fmt.Errorf("--target-ph: %w", err))
		}
		// A typed target beats the state's.
		opt.Target = t
	}
	if f.date != "" {
		day, err := season.ParseDay(f.date)
		if err != nil {
			errs = append(errs, fmt.Errorf("--date: %w", err))
		}
		opt.Lime.Date = day
	}
	if f.region != "" {
		w, err := season.Region(p, f.region)
		if err != nil {
			errs = append(errs, fmt.Errorf("--region: %w", err))
		}
		opt.Lime.Window = &w
	}
	if err := opt.Lime.Check(p); err != nil {
		errs = append(errs, err)
	}
	if err := f.testFlags.check(); err != nil {
		errs = append(errs, err)
	}
	if err := errors.Join(errs...); err != nil {
		return opt, usagef("%v", err)
	}
	return opt, nil
}

// notices tells what of the command line has less effect than it seems.
func (f *screenFlags) notices(opt job.Options, faults *diag.List) {
	if opt.Target.Missing && f.targetPH == 0 {
		faults.Notice(diag.Fault{Field: "--state", Kind: "no target", What: fmt.Sprintf("the crop profile has no target pH for %s; the default of %g is taken", opt.Target.State, float64(opt.Target.PH)), Fix: "choose one with --target-ph"})
	}
	if f.region != "" && f.date == "" {
		faults.Notice(diag.Fault{Field: "--region", Kind: "no date", What: "no sowing window is worked out without a day to count from", Fix: "add --date"})
	}
}

// isState says whether a text is the postal code of a state, or of the capital's district or an island territory.
// Source: United States Postal Service, two-letter abbreviations; from memory, not checked.
func isState(s string) bool {
	const codes = " AL AK AZ AR CA CO CT DE FL GA HI ID IL IN IA KS KY LA ME MD MA MI MN MS MO MT NE NV NH NJ NM NY NC ND OH OK OR PA RI SC SD TN TX UT VT VA WA WV WI WY DC AS GU MP PR VI "
	return len(s) == 2 && strings.Contains(codes, " "+strings.ToUpper(s)+" ")
}

// openFields reads the boundaries and what is to be cut out of them.
// The witnesses come back in the order of the record: boundaries first, then what is cut out. Id, customer and farm name properties of the
// files, and one that a file does not have is told by the reader.
func openFields(ctx context.Context, paths []string, f *screenFlags, faults *diag.List) ([]field.Field, []*witness, error) {
	opt := field.Options{ID: f.id, Customer: f.customer, Farm: f.farm, CRS: f.crs, Workers: f.workers}
	var sources []field.Source
	var seen []*witness
	for _, p := range paths {
		s, w := fieldSource(p, "fields")
		s.Layer = f.layer
		sources, seen = append(sources, s), append(seen, w)
	}
	for _, p := range f.exclude {
		s, w := fieldSource(p, "exclude")
		opt.Exclude, seen = append(opt.Exclude, s), append(seen, w)
	}
	fields, err := field.Read(ctx, sources, opt, faults)
	return fields, seen, err
}

// fieldSource names a file within the folder that it stands in: a shapefile is several files with one name.
func fieldSource(path, role string) (field.Source, *witness) {
	w := &witness{FS: os.DirFS(dirOf(path)), role: role, name: path}
	return field.Source{Name: path, Files: w, Path: baseName(path)}, w
}

// dirOf is the folder a path stands in, "." when it names none.
// Like baseName it takes both slashes as separators on any system, and keeps a root ("/") as it is.
func dirOf(path string) string {
	dir := strings.TrimSuffix(strings.TrimRight(path, `/\`), baseName(path))
	switch {
	case dir == "":
		return "."
	case strings.Trim(dir, `/\`) == "":
		return dir[:1]
	}
	return strings.TrimRight(dir, `/\`)
}

// optionsOf lists every option in force, for the record; paths by their last part, so that the record does not
// depend on where the data stand.
// A flag that was typed with its usual value counts as in force: it was meant.
func optionsOf(fl *pflag.FlagSet) []suitability.Option {
	var out []suitability.Option
	fl.VisitAll(func(f *pflag.Flag) {
		if !f.Changed && f.Value.String() == f.DefValue || slices.Contains(notSettable, f.Name) {
			return
		}
		value := f.Value.String()
		if s, ok := f.Value.(pflag.SliceValue); ok {
			value = strings.Join(baseNames(s.GetSlice()), ", ")
		} else if isPath(f.Name) {
			value = baseName(value)
		}
		out = append(out, suitability.Option{Name: f.Name, Value: value})
	})
	// By name: flags are declared in the order of the help, which may change, and the record must not.
	slices.SortFunc(out, func(a, b suitability.Option) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// baseNames is [baseName] of each.
func baseNames(paths []string) []string {
	out := make([]string, len(paths))
	for i, p := range paths {
		out[i] = baseName(p)
	}
	return out
}

// relative names files in faults from the last part of what the user typed, so that a run does not depend on where
// the data stand.
// The longest path is not looked for, the first that fits is taken; faults within a zip have the file's name behind the path, which stays.
func relative(faults []diag.Fault, typed []string) []diag.Fault {
	names := shortNames(typed)
	for i := range faults {
		for j, p := range typed {
			if rest, ok := strings.CutPrefix(faults[i].File, p); ok && p != "" {
				faults[i].File = names[j] + rest
				break
			}
		}
	}
	return faults
}

// shortNames returns the last part of each path, with as many of its folders before it as tell it from the others: two counties may each
// have their fields.geojson.
func shortNames(paths []string) []string {
	out := baseNames(paths)
	for i, p := range paths {
		rest := p
		// each turn takes one folder more, until the name stands alone or the path is used up
		for alike(out[i], p, paths) && dirOf(rest) != "." && baseName(dirOf(rest)) != "" {
			rest = dirOf(rest)
			out[i] = baseName(rest) + "/" + out[i]
		}
	}
	return out
}

// alike says whether another path ends as the name of p does.
func alike(name, p string, paths []string) bool {
	slashes := strings.NewReplacer(`\`, "/")
	return slices.ContainsFunc(paths, func(q string) bool {
		return q != p && strings.HasSuffix("/"+strings.Trim(slashes.Replace(q), "/"), "/"+name)
	})
}

// explainRun prints the reasoning for a zone of a run that was written before.
func explainRun(dir, zone string, std stdio) error {
	r, err := openRun(dir)
	if err != nil {
		return err
	}
	return explain(r, zone, std)
}

// explain prints the reasoning for a zone.
func explain(r *suitability.Result, zone string, std stdio) error {
	z, err := zoneOf(r, zone)
	if err != nil {
		return err
	}
	return words.Explain(std.out, z, r.Profile)
}

// zoneOf finds a zone by its id. Where there is no such zone, some ids show how zones are named: those of the field, if there is that.
func zoneOf(r *suitability.Result, zone string) (*suitability.Zone, error) {
	const shown = 8
	var ofField, first []string
	for i := range r.Zones {
		z := &r.Zones[i]
		if z.ID == zone {
			return z, nil
		}
		// A field's id may hold a stroke itself, so the id is not taken apart.
		if len(ofField) < shown && (strings.HasPrefix(zone, z.FieldID+"/") || zone == z.FieldID) {
			ofField = append(ofField, z.ID)
		}
		if len(first) < shown {
			first = append(first, z.ID)
		}
	}
	switch {
	case len(first) == 0:
		return nil, fmt.Errorf("there is no zone %q: no field has an answer, so there are no zones; fields.csv says why", zone)
	case len(ofField) > 0:
		return nil, fmt.Errorf("there is no zone %q; its field has %s", zone, strings.Join(ofField, ", "))
	}
	return nil, fmt.Errorf("there is no zone %q; zones are named field/number, such as %s", zone, strings.Join(first, ", "))
}

// openGround opens what the fields lie on: the survey and, if one is given, the elevation raster, which goes to opt.
// The box of the fields goes along: of a county, polygons far from every field are dropped as they are read.
func (f *screenFlags) openGround(ctx context.Context, fields []field.Field, opt *job.Options, faults *diag.List) (*opened, error) {
	o, err := openSurvey(ctx, surveyInput{f.survey, f.tables, f.unitsKey, boxesOf(fields)}, faults)
	if err != nil {
		return nil, err
	}
	if opt.Heights, err = o.openElevation(f, faults); err != nil {
		o.close()
		return nil, err
	}
	return o, nil
}

// boxesOf returns a box around each field.
// It is never nil, even without a field that has a shape: to the survey's reader nil means all ground. Shapes are in degrees here.
func boxesOf(fields []field.Field) []orb.Bound {
	boxes := []orb.Bound{}
	for _, f := range fields {
		if len(f.Shape) > 0 {
			boxes = append(boxes, f.Shape.Bound().Pad(0.001)) // degrees: a hundred metres of ground around
		}
	}
	return boxes
}
