package main

import (
	"context"
	"fmt"
	"slices"

	"rootworthy/export/choice"
	"rootworthy/suitability"
	"rootworthy/suitability/ranking"
	"rootworthy/suitability/season"
	"rootworthy/suitability/uncertainty"
)

// gather opens the runs, says how sure they are, and ranks.
func (w *rankWork) gather(ctx context.Context, dirs []string, f *rankFlags) error {
	if err := w.priced(f.prices); err != nil {
		return err
	}
	if err := w.open(dirs); err != nil {
		return err
	}
	// Before the first study: a region that is misspelt should not cost the time that studies take.
	options, err := w.calendars(f)
	if err != nil {
		return err
	}
	var fields []ranking.Field
	for i, r := range w.choice.Runs {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		study := uncertainty.Of(r.Result, uncertainty.Options{Seed: f.seed, Enough: w.options.Rules.Wanted()})
		// Money is worked out while the zones are still there; they go at the end of the turn, or thousands of fields would fill the
		// memory.
		options[i].Money = w.money(r.Result)
		fields = append(fields, ranking.Gather(r.Name, r.Result, study, options[i])...)
		r.Result.Zones = nil // the chances and the sums are all that is needed of them
	}
	w.choice.Seed = f.seed
	w.choice.Ranking, err = ranking.Rank(ctx, fields, w.options)
	return err
}

// open reads the runs. They are told apart by the last part of their names, or by all of it where two are the same.
func (w *rankWork) open(dirs []string) error {
	var short []string
	for _, d := range dirs {
		short = append(short, baseName(d))
	}
	for i, d := range dirs {
		r, err := openRun(d)
		if err != nil {
			return err
		}
		if r.Profile == nil {
			return fmt.Errorf("%s: the run has no crop profile, so its ground cannot be judged again; screen it again with this program", d)
		}
		// A run goes by the name of its folder; where two are named alike, by its path as typed.
		name := short[i]
		if slices.Contains(short[:i], name) || slices.Contains(short[i+1:], name) {
			name = d
		}
		// A run named twice would rank its fields against themselves.
		if slices.ContainsFunc(w.choice.Runs, func(x choice.Run) bool { return x.Name == name }) {
			return usagef("%s is named twice; name each run once", d)
		}
		w.choice.Runs = append(w.choice.Runs, choice.Run{Name: name, Result: r})
	}
	w.choice.Program = w.choice.Runs[0].Result.Provenance.Program
	return nil
}

// calendars finds the day and the region that every run counts from: what was typed, or what the run was made for. Where one of them
// has none, the fields of all are compared by the wait after lime, since days to a window and a bare wait cannot be.
func (w *rankWork) calendars(f *rankFlags) ([]ranking.GatherOptions, error) {
	out := make([]ranking.GatherOptions, len(w.choice.Runs))
	w.choice.Start = ranking.ByWindow
	for i, r := range w.choice.Runs {
		o, day, region, err := calendarOfRun(r.Result, f)
		if err != nil {
			return nil, err
		}
		out[i] = o
		if o.Start == ranking.ByWait {
			w.choice.Start = ranking.ByWait
		}
		if i > 0 && day != w.choice.Date {
			return nil, fmt.Errorf("the runs are of different days (%q and %q), so their waits cannot be compared; add --date YYYY-MM-DD", w.choice.Date, day)
		}
		w.choice.Date = day
		// Runs of several regions can be ranked together; the answer then names none.
		if i > 0 && region != w.choice.Region {
			region = ""
		}
		w.choice.Region = region
	}
	// Decided only now, since one run without a day or a region turns all of them to the bare wait.
	for i := range out {
		out[i].Start = w.choice.Start
	}
	return out, nil
}

// calendarOfRun is the day and region of one run.
// An empty day or region is no error: the run is then compared by the bare wait (ranking.ByWait).
func calendarOfRun(r *suitability.Result, f *rankFlags) (o ranking.GatherOptions, day, region string, err error) {
	day, region = f.date, f.region
	if day == "" {
		day = r.Provenance.Date
	}
	if region == "" {
		region = r.Provenance.Option("region")
	}
	o.Start = ranking.ByWindow
	if day == "" {
		o.Start = ranking.ByWait
	} else if o.Day, err = season.ParseDay(day); err != nil {
		return o, day, region, usagef("--date: %v", err)
	}
	if region == "" {
		o.Start = ranking.ByWait
	} else if o.Window, err = season.Region(r.Profile, region); err != nil {
		return o, day, region, usagef("--region: %v", err)
	}
	return o, day, region, nil
}
