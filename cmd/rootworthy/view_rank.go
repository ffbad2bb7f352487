package main

import (
	"rootworthy/export/choice"
	"rootworthy/internal/web"
	"rootworthy/suitability"
	"rootworthy/suitability/ranking"
	"rootworthy/suitability/uncertainty"
)

// ranker gathers the fields of a run for the page as the verb rank does. Prices that cannot be used are told before
// anything listens.
func (f *viewFlags) ranker() (*web.Ranker, error) {
	var priced rankWork
	if err := priced.priced(f.prices); err != nil {
		return nil, err
	}
	return &web.Ranker{Gather: func(name string, r *suitability.Result, study *uncertainty.Study) (*choice.Choice, []ranking.Field, error) {
		// By value for each call: pages are answered side by side, and each sets the runs and the day of its own.
		w := priced
		w.choice.Runs, w.choice.Program = []choice.Run{{Name: name, Result: r}}, r.Provenance.Program
		options, err := w.calendars(&rankFlags{date: f.date, region: f.region})
		if err != nil {
			return nil, nil, err
		}
		options[0].Money = w.money(r)
		return &w.choice, ranking.Gather(name, r, study, options[0]), nil
	}}, nil
}
