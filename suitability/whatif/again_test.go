package whatif_test

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/whatif"
)

// surveys are the demonstration, which is always there, and real exports beside the repository (USDA-NRCS SSURGO,
// public domain).
func surveys(t *testing.T) map[string]*soils.Survey {
	out := map[string]*soils.Survey{}
	for _, dir := range []string{"../../testdata/demo/survey", "../../../shared/data/ssurgo-ar017", "../../../shared/data/ssurgo-ia073-aoi",
		"../../../shared/data/ssurgo-mo181-tabular", "../../../shared/data/ssurgo-az649-tabular", "../../../shared/data/ssurgo-ia015-aoi",
		"../../../shared/data/ssurgo-tx347-tx401-tabular"} {
		if _, err := os.Stat(dir); err != nil {
			t.Logf("not beside the repository, left out: %s", dir)
			continue
		}
		var faults diag.List
		e, err := ssurgo.Open(context.Background(), filepath.Base(dir), os.DirFS(dir), &faults)
		if err != nil {
			t.Fatal(err)
		}
		s, err := e.Survey(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(dir)] = s
	}
	return out
}

// A rating rated again by another profile is what that profile makes of the survey itself: the way over the run folder
// and the way over the survey are two ways to one answer.
func TestAgainIsWhatTheSurveyItselfGives(t *testing.T) {
	usual := suitability.DefaultProfile()
	moved := must(whatif.Apply(usual, map[string]float64{"depth.suited": 80, "depth.marginal": 45, "water_table.suited": 70, "ph_subsoil.suited": 5.2,
		"ph_surface.marginal": 6.0, "slope.suited": 5, "available_water.suited": 120, "salinity.suited": 1}))(t)
	wetter := must(whatif.Drainage(moved, soils.ModeratelyWellDrained, soils.PoorlyDrained))(t)
	tested := suitability.Tested{Surface: &suitability.TestedPH{PH: 6.1, Least: 6, Most: 6.2, Samples: 2, To: 20, Covered: 20, Age: suitability.AgeFresh},
		Subsoil: &suitability.TestedPH{PH: 5.3, Least: 5.3, Most: 5.3, Samples: 1, From: 30, To: 60, Covered: 30, Age: suitability.AgeOld}}
	first := suitability.RateOptions{Scale: unit.Some(24000)}
	cases := map[string]struct {
		p   *suitability.Profile
		opt suitability.RateOptions
	}{
		"nothing moved":    {usual, first},
		"limits moved":     {moved, first},
		"drainage moved":   {wetter, first},
		"works declared":   {usual, suitability.RateOptions{Drained: true, Scale: first.Scale}},
		"a lower target":   {usual, suitability.RateOptions{Target: suitability.Target{PH: 6.2}, Scale: first.Scale}},
		"tested":           {usual, suitability.RateOptions{Tested: tested, Scale: first.Scale}},
		"tested and moved": {wetter, suitability.RateOptions{Tested: tested, Drained: true, Scale: first.Scale}},
	}
	changed := map[string]int{}
	for name, s := range surveys(t) {
		for i := range s.Units {
			for what, c := range cases {
				before := first
				before.Tested = c.opt.Tested
				from := usual.RateUnit(s.Units[i], before)
				opt := c.opt
				opt.Tested = from.Tested
				got, want := c.p.Again(from, opt), c.p.RateUnit(s.Units[i], c.opt)
				if a, b := text(t, got), text(t, want); a != b {
					t.Errorf("%s, map unit %s, %s:\n got %s\nwant %s", name, s.Units[i].Symbol, what, a, b)
				}
				if want.Class != from.Class {
					changed[what]++
				}
			}
		}
	}
	for _, what := range []string{"limits moved", "drainage moved", "works declared"} {
		if changed[what] == 0 {
			t.Errorf("%s: no class changed, so nothing is shown", what)
		}
	}
}

// must unwraps a profile that is wanted in a table, before there is a test to fail.
func must(p *suitability.Profile, err error) func(*testing.T) *suitability.Profile {
	return func(t *testing.T) *suitability.Profile {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
}

// text compares ratings by all that is written of them.
func text(t *testing.T, r suitability.UnitRating) string {
	t.Helper()
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}
