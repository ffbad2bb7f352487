package web

import (
	"net/url"
	"sync"

	"rootworthy/export/grower"
	"rootworthy/export/report"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
	"rootworthy/suitability/season"
)

// Planner makes the grower's plan of a run, by the function that the command line uses.
type Planner struct {
	Region, Date string // as the program was started with; "" for those of the run
	Farm         func(r *suitability.Result, region, date string, faults *diag.List) (*grower.Farm, error)
}

// planAsk is what a plan counts from.
type planAsk struct{ Region, Date string }

// planMade is a plan with its document.
type planMade struct {
	farm   *grower.Farm
	doc    *report.Document
	faults []fault
}

// planShelf keeps the latest plan of a run.
type planShelf struct {
	mu   sync.Mutex
	key  string
	made *planMade
}

// planAskOf reads what a plan counts from: the address, what the program was started with, what the run was made for.
// wrong says, by the name of the parameter, what cannot be meant or is missing.
func (s *Server) planAskOf(q url.Values, r *suitability.Result) (a planAsk, wrong map[string]string) {
	wrong = map[string]string{}
	first := func(list ...string) string {
		for _, x := range list {
			if x != "" {
				return x
			}
		}
		return ""
	}
	a = planAsk{first(q.Get("region"), s.planner.Region, r.Provenance.Option("region")), first(q.Get("date"), s.planner.Date, r.Provenance.Date)}
	if a.Date == "" {
		wrong["date"] = "A plan counts from a day: give one."
	} else if _, err := season.ParseDay(a.Date); err != nil {
		wrong["date"] = err.Error()
	}
	switch {
	case r.Profile == nil:
		wrong["region"] = "The run has no crop profile, so no sowing windows; screen again with this program."
	case a.Region == "":
		wrong["region"] = "A plan counts back from a sowing window: choose a region."
	default:
		if w, err := season.Region(r.Profile, a.Region); err != nil {
			wrong["region"] = err.Error()
		} else {
			a.Region = w.Region
		}
	}
	return a, wrong
}

// plan makes the plan of a run, or returns it where nothing that it rests on has changed.
func (s *Server) plan(l *loaded, a planAsk) (*planMade, error) {
	key := a.Region + "\x00" + a.Date
	if s.record != nil {
		now, err := s.recordNow()
		if err != nil {
			return nil, err
		}
		key += "\x00" + now.seen
	}
	l.plans.mu.Lock()
	defer l.plans.mu.Unlock()
	if l.plans.made != nil && l.plans.key == key {
		return l.plans.made, nil
	}
	var faults diag.List
	farm, err := s.planner.Farm(l.result, a.Region, a.Date, &faults)
	if err != nil {
		return nil, err
	}
	m := &planMade{farm: farm, doc: grower.Document(farm)}
	for _, f := range faults.Kept() {
		m.faults = append(m.faults, fault{f.Severity.String(), f.String()})
	}
	l.plans.key, l.plans.made = key, m
	return m, nil
}
