package main

import (
	"rootworthy/export/choice"
	"rootworthy/internal/web"
	"rootworthy/suitability"
	"rootworthy/suitability/ranking"
	"rootworthy/suitability/uncertainty"
)

// ranker gathers the fields of a run for the page as the verb rank does.
func (f *viewFlags) ranker() *web.Ranker {
	return &web.Ranker{Gather: func(name string, r *suitability.Result, study *uncertainty.Study) (*choice.Choice, []ranking.Field, error) {
		w := rankWork{choice: choice.Choice{Runs: []choice.Run{{Name: name, Result: r}}, Program: r.Provenance.Program}}
		options, err := w.calendars(&rankFlags{date: f.date, region: f.region})
		if err != nil {
			return nil, nil, err
		}
		return &w.choice, ranking.Gather(name, r, study, options[0]), nil
	}}
}
