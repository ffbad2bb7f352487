package ranking

import (
	"cmp"
	"slices"
	"strings"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/season"
)

// calendar says when ground can be sown. Most zones of a run share a few plans, so each is made once.
type calendar struct {
	profile *suitability.Profile
	options GatherOptions
	plans   map[planKey]season.Plan
}

// planKey is what tells the plans of zones apart. wait is the months after the last pass, without the years between passes.
type planKey struct {
	passes, wait int
	tested       bool
}

func newCalendar(p *suitability.Profile, o GatherOptions) *calendar {
	if p == nil { // runs of the first programs do not keep it
		p = suitability.DefaultProfile()
	}
	return &calendar{profile: p, options: o, plans: map[planKey]season.Plan{}}
}

// daysOfMonth turns months of waiting into days: the mean month of the Gregorian calendar.
const daysOfMonth = 365.2425 / 12

// of returns the days until a zone can be sown, and its plan by season; ok is false where lime would have to mend the
// ground and there is no figure.
func (c *calendar) of(z *suitability.Zone) (days float64, plan season.Plan, ok bool) {
	// The same ground as the plan leaves out: something must mend it, and nobody knows how much lime that is.
	if z.Lime.Passes == 0 && z.Rating.ClassToday == suitability.Unsuited {
		return 0, plan, false
	}
	// Without a day and a region there is no calendar; the wait after lime still tells fields apart.
	if c.options.Start == ByWait {
		return float64(z.Lime.WaitMonths) * daysOfMonth, plan, true
	}
	// WaitMonths holds a year for each pass but the first; taken off again it is the wait after the last
	key := planKey{z.Lime.Passes, z.Lime.WaitMonths - 12*max(0, z.Lime.Passes-1), strings.HasPrefix(z.Lime.Basis, limeplan.BasisTest)}
	if z.Lime.WaitMonths <= 0 { // a run of a program that did not keep it
		key.wait = c.profile.Lime.WaitMonths()
	}
	plan, known := c.plans[key]
	if !known {
		plan = season.Make(season.Input{Start: c.options.Day, Window: c.options.Window, Passes: key.passes, Tested: key.tested,
			Wait: season.Rule{Name: season.AfterLime, Value: float64(key.wait), Unit: "months"}})
		c.plans[key] = plan
	}
	return plan.Window.First.Sub(c.options.Day).Hours() / 24, plan, true
}

// sowable is suited ground with the day on which it can be sown.
type sowable struct {
	days float64
	area unit.Area
	plan season.Plan
}

// ready measures the days until at least half of the suited ground can be sown; its range is from the first such ground to the last.
// Where no day is known of half of it, the measure is missing.
func (g *ground) ready(f *Field, c *calendar) {
	var all []sowable
	for _, z := range g.zones {
		if days, plan, ok := c.of(z); ok && z.Rating.Class == suitability.Suited {
			all = append(all, sowable{days, z.Area, plan})
		}
	}
	// the earliest first; of one day in the order of zones, so that the plan shown is always the same one
	slices.SortStableFunc(all, func(a, b sowable) int { return cmp.Compare(a.days, b.days) })
	sum := unit.Area(0)
	for _, s := range all {
		if sum += s.area; 2*sum >= f.Facts.ByClass[suitability.Suited] {
			// Half of the ground, not its mean: an acre that waits three years should not hold back sixty that are ready.
			f.Measures[Ready] = Between(all[0].days, s.days, all[len(all)-1].days)
			f.Facts.Sow = s.plan.Window
			f.Facts.Next = firstUndone(s.plan)
			return
		}
	}
}

// firstUndone is the first step that is still to be done.
func firstUndone(p season.Plan) season.Step {
	for _, s := range p.Steps {
		if !s.Done {
			return s
		}
	}
	return season.Step{}
}
