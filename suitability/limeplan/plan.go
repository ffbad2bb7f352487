package limeplan

import (
	"slices"
	"strings"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/season"
)

// Plan returns the lime of a zone of the given area, at the target of its rating. Options are taken as [Options.Check]
// passes them.
//
// A zone that is not rated has no figure, an unsuited one none unless asked for, one without need zero; each says why.
// The band at 100 % CCE is not rounded; the product is, to the spreader's step, but never down to nothing. Dates need
// Options.Date: the last yearly pass has worked Months after it is spread, and the window is the earliest that is
// then still open. Without a date Lime.WaitMonths alone tells how long it takes from the first pass. Ground that is
// unsuited, or that lime would have to mend and has no figure, has no window.
func Plan(p *suitability.Profile, r suitability.UnitRating, area unit.Area, o Options) suitability.Lime {
	return plan(p, r, area, o, nil)
}

// plan is Plan; t is nil without laboratory tests.
func plan(p *suitability.Profile, r suitability.UnitRating, area unit.Area, o Options, t *Tests) suitability.Lime {
	// not rated and unsuited ground leaves before any figure: a rate beside "unsuited" would be spread
	o = o.filled(p)
	l := suitability.Lime{Basis: BasisSurvey, Target: r.Target.PH}
	switch {
	case r.Class == suitability.NotRated:
		l.Why = suitability.WhyZoneNotRated
		return l
	case r.Class == suitability.Unsuited && !o.IncludeUnsuited:
		l.Why = suitability.WhyZoneUnsuited
		return l
	}
	if product, ok := figure(p, r, &l, o, t); ok {
		spread(&l, product, area, o)
	}
	schedule(&l, r, o)
	// last, since the notes of figure and plan come in any order
	l.Notes = ordered(append(l.Notes, cautions(p, &l, r, o)...))
	return l
}

// figure fills in the figure, from tests where they have one and else from the survey, and returns what is spread of the
// product. Where the method has no figure but the pH was tested, the survey's texture is read at the tested pH: the rating has done that
// already, and here only the basis says so.
func figure(p *suitability.Profile, r suitability.UnitRating, l *suitability.Lime, o Options, t *Tests) (product unit.AreaRate, ok bool) {
	if t != nil {
		if product, ok := byTests(l, t, o); ok {
			ageAndReach(l, t)
			return product, true
		}
	}
	if r.Tested.Surface != nil {
		l.Basis = BasisTestedPH
		if t == nil || t.Method == "" {
			addNotes(l, suitability.LimeNoMethod)
		}
	}
	band(p, r.Components, l)
	if r.Tested.Surface != nil {
		l.Why = whyTest(l.Why)
	}
	likely, ok := l.Likely.Get()
	// the texture table is taken as pure carbonate (100 % CCE), so the product's own effectiveness applies in full
	return lime.Product{ECCE: o.ECCE, Moisture: o.Moisture}.AsSpread(lime.Of(likely, lime.Carbonate)), ok
}

// ageAndReach notes what weakens a rate by tests.
func ageAndReach(l *suitability.Lime, t *Tests) {
	if t.Old {
		addNotes(l, suitability.LimeOldTest)
	}
	if t.Wide {
		addNotes(l, suitability.LimeWideTest)
	}
}

// spread rounds the product for the spreader and splits it into passes.
func spread(l *suitability.Lime, product unit.AreaRate, area unit.Area, o Options) {
	product = lime.OnStep(product, o.Step)
	l.Product, l.ProductMass = unit.Some(product), unit.Some(product.Over(area))
	l.Passes = len(lime.Passes(product, o.Cap))
	if l.Passes > 0 {
		// passes lie a year apart, and the wait counts from the last
		l.WaitMonths = 12*(l.Passes-1) + o.Months
	}
}

// schedule works out when the lime has worked and when alfalfa can be sown. Ready and Window stay "" without a date: nothing here knows
// what day it is.
func schedule(l *suitability.Lime, r suitability.UnitRating, o Options) {
	if o.Date.IsZero() {
		return
	}
	ready := season.AddMonths(o.Date, l.WaitMonths)
	if l.Passes > 0 {
		l.Ready = season.Day(ready)
	}
	// unsuited today, suited once limed, but without lime to spread: no date makes it fit, so none is promised
	unmended := l.Passes == 0 && r.ClassToday == suitability.Unsuited
	if o.Window != nil && r.Class != suitability.Unsuited && !unmended {
		l.Window = season.Earliest(*o.Window, ready).String()
	}
}

// cautions are the notes that follow from the plan as a whole. screened is a need that rests on the texture table, be it at a tested pH.
func cautions(p *suitability.Profile, l *suitability.Lime, r suitability.UnitRating, o Options) []string {
	var notes []string
	add := func(when bool, note string) {
		if when {
			notes = append(notes, note)
		}
	}
	need, screened := l.Likely.Or(0) > 0, !strings.HasPrefix(l.Basis, BasisTest)
	add(need && screened, suitability.LimeBudget)
	add(need && screened, suitability.LimeTableOrigin)
	add(need, suitability.LimeSurfaceOnly)
	add(need, suitability.LimeRetest)
	// by what was allowed, not by what is spread: who raised the cap is told what goes with it
	add(need && o.Cap > unit.ShortTonsPerAcre(p.Lime.Cap.Value)*(1+1e-9), suitability.LimeLargePass)
	add(l.Likely.Has() && !need && l.Basis == BasisSurvey, suitability.LimeNoNeed)
	add(r.Target.Missing, suitability.LimeStateMissing)
	add(r.Class == suitability.Unsuited, suitability.LimeUnsuitedAsked)
	return notes
}

// ordered puts notes in the order of [suitability.LimeNotes], each once.
func ordered(notes []string) []string {
	var out []string
	for _, n := range suitability.LimeNotes() {
		if slices.Contains(notes, n) {
			out = append(out, n)
		}
	}
	return out
}
