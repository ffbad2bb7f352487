package web

import (
	"errors"
	"strings"
	"testing"

	"rootworthy/export/grower"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
	"rootworthy/suitability/nutrientplan"
	"rootworthy/suitability/season"
	"rootworthy/suitability/seedplan"
)

// bare makes a plan without lime, seed and nutrients, and counts how often it was asked.
func bare(asked *int) *Planner {
	return &Planner{Farm: func(r *suitability.Result, region, date string, faults *diag.List) (*grower.Farm, error) {
		*asked++
		day, err := season.ParseDay(date)
		if err != nil {
			return nil, err
		}
		w, err := season.Region(r.Profile, region)
		if err != nil {
			return nil, err
		}
		if date == "2027-01-01" {
			return nil, errors.New("the seed tag is gone")
		}
		f := &grower.Farm{Run: r, Date: day, Region: w, Seed: seedplan.Make(nil, seedplan.Options{Tag: seedplan.Tag{Purity: 100, Germination: 100}}), Nutrients: &nutrientplan.Plan{}}
		for i := range r.Zones {
			f.Zones = append(f.Zones, grower.Zone{Zone: &r.Zones[i], Why: grower.WhyUnsuited})
		}
		faults.Add(diag.Fault{File: "tag.toml", Line: 3, What: "odd"})
		return f, nil
	}}
}

// A plan asks for what it counts from, tells what cannot be meant beside its field, and is made once.
func TestPlanAsksForWhatItCountsFrom(t *testing.T) {
	asked := 0
	s := serve(t, nil)
	s.server.planner = bare(&asked)
	for path, want := range map[string]struct {
		code int
		says string
	}{
		"/run/1/plan": {200, "choose a region"},
		"/run/1/plan?region=delta&date=2026-03-01":             {400, "&#34;delta&#34; is not a region of the crop profile"},
		"/run/1/plan?region=piedmont&date=soon":                {400, "&#34;soon&#34; is not a date"},
		"/run/1/plan?region=piedmont&date=2027-01-01":          {422, "the seed tag is gone"},
		"/run/1/field/99/plan":                                 {404, "no such field"},
		"/run/1/plan/notes.txt":                                {404, "no such file"},
		"/run/1/plan/plan.pdf":                                 {400, "choose a region. A plan counts from a day"},
		"/run/1/plan/plan.ics?region=piedmont&date=2026-03-01": {404, "there is no calendar"},
	} {
		code, text := s.get(path)
		if code != want.code || !strings.Contains(text, want.says) {
			t.Errorf("%s: %d, want %d and %q", path, code, want.code, want.says)
		}
	}
	asked = 0
	for _, path := range []string{"/run/1/plan", "/run/1/field/0/plan", "/run/1/plan/plan.csv"} {
		if code, text := s.get(path + "?region=Piedmont&date=2026-03-01"); code != 200 || strings.HasSuffix(path, "plan") && !strings.Contains(text, "tag.toml:3: odd") {
			t.Errorf("%s: %d", path, code)
		}
	}
	if asked != 0 { // made above, for the calendar that is empty
		t.Errorf("the plan was made %d times more", asked)
	}
}
