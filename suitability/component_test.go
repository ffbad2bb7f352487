package suitability

import (
	"math"
	"slices"
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// noPH takes away both core criteria that rest on pH.
func noPH(c *soils.Component) {
	for i := range c.Horizons {
		c.Horizons[i].PH = soils.Range[unit.PH]{}
	}
}

// A component's class and what limits it, once corrected and as it is today: one rule of the class a case.
func TestComponentClass(t *testing.T) {
	for name, c := range map[string]struct {
		change          []func(*soils.Component)
		class, today    Class
		limiting, limit Code
	}{
		"all good":                        {nil, Suited, Suited, "", ""},
		"acid on top, correctable":        {[]func(*soils.Component){acid(5.4, 6.9)}, Suited, Unsuited, "", SurfacePH},
		"at pH 4.5 still correctable":     {[]func(*soils.Component){acid(4.5, 6.9)}, Suited, Unsuited, "", SurfacePH},
		"below 4.5 not":                   {[]func(*soils.Component){acid(4.4, 6.9)}, Unsuited, Unsuited, SurfacePH, SurfacePH},
		"too alkaline is not correctable": {[]func(*soils.Component){acid(9.2, 7)}, Unsuited, Unsuited, SurfacePH, SurfacePH},
		"acid below":                      {[]func(*soils.Component){acid(6.9, 5.2)}, Marginal, Marginal, SubsoilPH, SubsoilPH},
		"a known bad value decides":       {[]func(*soils.Component){drains(soils.PoorlyDrained), noPH}, Unsuited, Unsuited, Drainage, Drainage},
		"else a missing core value":       {[]func(*soils.Component){noPH}, NotRated, NotRated, "", ""},
		"marginal does not decide":        {[]func(*soils.Component){drains(soils.ModeratelyWellDrained), noPH}, NotRated, NotRated, "", ""},
		"a bad value outside the core":    {[]func(*soils.Component){floods(soils.Frequent, ""), noPH}, Unsuited, Unsuited, Flooding, Flooding},
		"acid today, drainage unknown":    {[]func(*soils.Component){acid(5, 6.9), drains(soils.DrainageUnknown)}, NotRated, Unsuited, "", SurfacePH},
		"others missing are left out":     {[]func(*soils.Component){func(c *soils.Component) { c.Months, c.Slope = nil, soils.Range[float64]{} }}, Suited, Suited, "", ""},
		"lowest score of the worst class": {[]func(*soils.Component){drains(soils.SomewhatPoorlyDrained), wetFrom(10, 2)}, Unsuited, Unsuited, WaterTable, WaterTable},
		// subaqueous and a wet layer at the surface both score 0
		"a tie takes the first in order": {[]func(*soils.Component){drains(soils.Subaqueous), wetFrom(0, 2)}, Unsuited, Unsuited, Drainage, Drainage},
	} {
		r := rate1(c.change...)
		if r.Class != c.class || r.ClassToday != c.today || r.Limiting != c.limiting || r.LimitingToday != c.limit {
			t.Errorf("%s: %v/%v by %q/%q, want %v/%v by %q/%q", name, r.Class, r.ClassToday, r.Limiting, r.LimitingToday,
				c.class, c.today, c.limiting, c.limit)
		}
		// a score stands exactly where there is a class, and a reason exactly where there is none
		if (r.Class == NotRated) == r.Score.Has() || (r.Class == NotRated) != (r.WhyNotRated == WhyCoreMissing) {
			t.Errorf("%s: score %v, why %q", name, r.Score, r.WhyNotRated)
		}
	}
}

// What is not recorded is never a zero: taking a value away may make a component not rated, never give it a score that
// a zero would give, and the missing criteria are listed.
func TestNotRecordedIsNotZero(t *testing.T) {
	empty := DefaultProfile().RateUnit(unitOf(soils.Component{Name: "bare", Percent: unit.Some(unit.Percent(100))}), RateOptions{})
	c := empty.Components[0]
	if c.Class != NotRated || c.Score.Has() || c.ScoreToday.Has() || c.ScoreMean.Has() || empty.Score.Has() || empty.Class != NotRated {
		t.Errorf("a component without a record was rated: %+v", c)
	}
	// all criteria, not the core alone: reports list what a visit may find out
	if !slices.Equal(c.Missing, Codes()) {
		t.Errorf("missing %v, want all", c.Missing)
	}
	for _, f := range c.Findings {
		if f.Value.Has() || f.Score.Has() {
			t.Errorf("%s has a value without a record: %+v", f.Criterion, f)
		}
	}
	if v := empty.Values; v.PHSurface.Has() || v.Slope.Has() || v.AWC.Has() || v.EC.Has() || v.Drainage != "" || v.Flooding != "" {
		t.Errorf("values shown without a record: %+v", v)
	}
}

// Declared works lift somewhat poor and poor drainage, and the wet layer with them, to marginal at best.
func TestDeclaredDrainage(t *testing.T) {
	p := DefaultProfile()
	for name, c := range map[string]struct {
		change      []func(*soils.Component)
		class       Class
		correctable Correctable
	}{
		"somewhat poorly":           {[]func(*soils.Component){drains(soils.SomewhatPoorlyDrained)}, Marginal, AsDeclaredOnly},
		"poorly, wet at 20 cm":      {[]func(*soils.Component){drains(soils.PoorlyDrained), wetFrom(20, 2)}, Marginal, AsDeclaredOnly},
		"very poorly: not drained":  {[]func(*soils.Component){drains(soils.VeryPoorlyDrained)}, Unsuited, No},
		"well: nothing to declare":  {nil, Suited, NotLimited},
		"moderately well, as it is": {[]func(*soils.Component){drains(soils.ModeratelyWellDrained)}, Marginal, No},
		"works move no rock":        {[]func(*soils.Component){drains(soils.PoorlyDrained), stops("Fragipan", 40)}, Unsuited, No},
	} {
		u := unitOf(good(100, c.change...))
		r := p.RateUnit(u, RateOptions{Drained: true})
		if r.Class != c.class || r.Correctable != c.correctable {
			t.Errorf("%s: %v, correctable %q; want %v, %q", name, r.Class, r.Correctable, c.class, c.correctable)
		}
		if natural := p.RateUnit(u, RateOptions{}); natural.Class < r.Class {
			t.Errorf("%s: works made it worse: %v, naturally %v", name, r.Class, natural.Class)
		}
	}
}

// Scores 0.9, 0.8, 0.3 give 0.30 as the minimum and 0.60 as the geometric mean (check values comb-01; from memory).
func TestScoresCombine(t *testing.T) {
	r := rate1(drains(soils.SomewhatExcessivelyDrained), floods(soils.Rare, ""), stops("Lithic bedrock", 45))
	if r.Score.Or(0) != 30 {
		t.Errorf("score %v, want the lowest, 30", r.Score.Or(0))
	}
	p := DefaultProfile()
	// a finding without a score, as the last one, takes no part
	made := []Finding{{Score: unit.Some(90.0)}, {Score: unit.Some(80.0)}, {Score: unit.Some(30.0)}, {}}
	if got := p.scoreMean(made).Or(0); math.Abs(got-60) > 1e-9 {
		t.Errorf("geometric mean %v, want 60", got)
	}
	if got := p.scoreMean([]Finding{{Score: unit.Some(0.0)}, {Score: unit.Some(90.0)}}); got.Or(-1) != 0 {
		t.Errorf("geometric mean with a zero = %v, want 0", got)
	}
}
