package limeplan

import (
	"slices"

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
	band(p, r.Components, &l)
	spread(&l, area, o)
	schedule(&l, r, o)
	l.Notes = ordered(append(l.Notes, cautions(p, &l, r, o)...))
	return l
}

// spread turns the likely figure into product over the ground.
func spread(l *suitability.Lime, area unit.Area, o Options) {
	likely, ok := l.Likely.Get()
	if !ok {
		return
	}
	product := lime.OnStep(lime.Product{ECCE: o.ECCE, Moisture: o.Moisture}.AsSpread(lime.Of(likely, lime.Carbonate)), o.Step)
	l.Product, l.ProductMass = unit.Some(product), unit.Some(product.Over(area))
	l.Passes = len(lime.Passes(product, o.Cap))
	if l.Passes > 0 {
		l.WaitMonths = 12*(l.Passes-1) + o.Months
	}
}

// schedule works out when the lime has worked and when alfalfa can be sown.
func schedule(l *suitability.Lime, r suitability.UnitRating, o Options) {
	if o.Date.IsZero() {
		return
	}
	ready := season.AddMonths(o.Date, l.WaitMonths)
	if l.Passes > 0 {
		l.Ready = season.Day(ready)
	}
	unmended := l.Passes == 0 && r.ClassToday == suitability.Unsuited
	if o.Window != nil && r.Class != suitability.Unsuited && !unmended {
		l.Window = season.Earliest(*o.Window, ready).String()
	}
}

// cautions are the notes that follow from the plan as a whole.
func cautions(p *suitability.Profile, l *suitability.Lime, r suitability.UnitRating, o Options) []string {
	var notes []string
	add := func(when bool, note string) {
		if when {
			notes = append(notes, note)
		}
	}
	need := l.Likely.Or(0) > 0
	add(need, suitability.LimeBudget)
	add(need, suitability.LimeTableOrigin)
	add(need, suitability.LimeSurfaceOnly)
	add(need, suitability.LimeRetest)
	add(need && o.Cap > unit.ShortTonsPerAcre(p.Lime.Cap.Value)*(1+1e-9), suitability.LimeLargePass)
	add(l.Likely.Has() && !need, suitability.LimeNoNeed)
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
