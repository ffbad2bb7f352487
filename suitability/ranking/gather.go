package ranking

import (
	"time"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// GatherOptions tunes [Gather]. The zero value counts costs by lime and days by the wait after it.
type GatherOptions struct {
	Start  Start
	Day    time.Time                // today, midnight UTC, for [ByWindow]
	Window suitability.SowingWindow // of the region, for [ByWindow]
	Money  []Money                  // by the user's prices, of each field in the order of the result; nil counts costs by lime
	Rules  Rules                    // what is enough; the zero value means [ProposedRules]
}

// Money is what prices make of a field. Each is missing where the prices do not say.
type Money struct {
	Cost  Measure // to lime and sow a suited m²
	Value Measure // net present value of the ground worth sowing; may be negative
}

// Gather returns what the fields of a run bring to a ranking, in the order of the result. study is that of the result, made
// with the option Enough set to [Rules.Wanted]; without, no field has a chance to be ranked by.
func Gather(run string, r *suitability.Result, study *uncertainty.Study, o GatherOptions) []Field {
	// All limits at zero would take every field; nobody means that.
	if o.Rules == (Rules{}) {
		o.Rules = ProposedRules()
	}
	// one calendar for the run: its zones share a few plans
	days := newCalendar(r.Profile, o)
	out := make([]Field, len(r.Fields))
	for i := range r.Fields {
		g := newGround(r, &r.Fields[i], study)
		f := &out[i]
		*f = Field{Run: run, ID: g.field.ID, Name: g.field.Name, Customer: g.field.Customer, Farm: g.field.Farm, Area: g.field.Area}
		f.Facts.Trouble = g.field.Trouble
		// Of such a field nothing was measured: it stays without a place, and is not taken for a bad one.
		if f.Facts.Trouble != "" || len(g.zones) == 0 {
			if f.Facts.Trouble == "" {
				f.Facts.Trouble = "outside the survey"
			}
			continue
		}
		g.facts(f)
		g.chances(f, &study.Fields[i], o.Rules)
		g.ready(f, days)
		g.limed(f)
		if o.Money != nil {
			f.Measures[Cost], f.Facts.Value = o.Money[i].Cost, o.Money[i].Value
		}
		// last, so that it overrides whatever was measured: a cost or a day of no ground is no figure
		if f.Facts.ByClass[suitability.Suited] <= 0 {
			f.Measures[Cost], f.Measures[Ready], f.Measures[Risk] = Without(), Without(), Without()
		}
	}
	return out
}

// ground is a field with its zones and how sure they are.
type ground struct {
	field *suitability.Field
	zones []*suitability.Zone
	sure  []*uncertainty.Zone
}

// newGround pairs zones and their chances, which stand at the same index; indexes that a damaged run does not have are left out.
func newGround(r *suitability.Result, f *suitability.Field, study *uncertainty.Study) *ground {
	g := &ground{field: f}
	for _, k := range f.Zones {
		if k >= 0 && k < len(r.Zones) && k < len(study.Zones) {
			g.zones, g.sure = append(g.zones, &r.Zones[k]), append(g.sure, &study.Zones[k])
		}
	}
	return g
}

// facts adds up what the verdict and the letter need.
func (g *ground) facts(f *Field) {
	x := &f.Facts
	var rated, low, hinging, unknown unit.Area
	limits, on := map[suitability.Code]unit.Area{}, map[suitability.Code]bool{}
	for _, z := range g.zones {
		r := &z.Rating
		x.ByClass[r.Class] += z.Area
		if r.ClassToday == suitability.Suited {
			x.SuitedToday += z.Area
		}
		// Ground that nobody rated is not in the shares below: of it there is neither a confidence nor a limit.
		if r.Class == suitability.NotRated {
			if r.WhyNotRated != suitability.WhyMiscellaneous { // a pond is known well enough
				unknown += z.Area
			}
			continue
		}
		rated += z.Area
		if r.Confidence.Level == suitability.Low {
			low += z.Area
		}
		if len(r.HingesOn) > 0 {
			hinging += z.Area
		}
		for _, c := range r.HingesOn {
			on[c] = true
		}
		if r.Class != suitability.Suited {
			limits[r.Limiting] += z.Area
		}
	}
	x.LowConfidence, x.Hinges = part(low, rated), part(hinging, rated)
	// Ground that two polygons cover counts twice, so that the share may come out over the whole.
	x.Unknown = min(part(unknown+g.field.Uncovered, g.field.Area), 1)
	// both were gathered in maps, and come out in an order of their own
	x.HingesOn, x.Limits = listed(on), byArea(limits)
}

// part is a part of a whole; nothing of nothing is nothing.
func part(a, whole unit.Area) float64 {
	if whole <= 0 {
		return 0
	}
	return float64(a / whole)
}

// chances measures the suited ground, how sure it is that there is enough of it, and how much of it may prove worse.
func (g *ground) chances(f *Field, study *uncertainty.Field, rules Rules) {
	x := &f.Facts
	stated := x.ByClass[suitability.Suited]
	// the middle of the draws is not taken: likely is what every other page shows, the area of the zones classed suited
	f.Measures[Suited] = Between(study.Suited.Low, float64(stated), study.Suited.High)
	x.Enough, _ = rules.Wanted().Of(g.field)
	worse, off := 0.0, 0.0
	for i, z := range g.zones {
		if z.Rating.Class == suitability.Suited {
			worse += float64(z.Area) * (1 - g.sure[i].Class.Of(suitability.Suited))
			// errors of drawing are added up as if they went together, which is the widest that they can be
			off += float64(z.Area) * g.sure[i].Error
		}
	}
	if p, ok := study.Enough.Get(); ok {
		x.ChanceOff = study.Error
		f.Measures[Sure] = share(p, x.ChanceOff)
	}
	if stated > 0 {
		f.Measures[Risk] = share(worse/float64(stated), off/float64(stated))
	}
}

// share is a chance with what the drawing of it may be off by. What no draw showed, or every one, is taken as it is: else a
// thousand fields without a hope would shuffle among themselves.
func share(p, off float64) Measure {
	if p <= 0 || p >= 1 {
		return Exactly(min(max(p, 0), 1))
	}
	return Between(max(p-off, 0), p, min(p+off, 1))
}

// limed counts the lime of the suited ground, and costs by it. Ground without a figure is left out of the mean; where that is
// most of it, there is none.
func (g *ground) limed(f *Field) {
	l := Lime{ByTest: true}
	for _, z := range g.zones {
		likely, ok := z.Lime.Likely.Get()
		if z.Rating.Class != suitability.Suited || !ok {
			continue
		}
		l.Figured += z.Area
		l.Likely += likely.Over(z.Area)
		// a figure whose error nobody knows is counted without a range
		l.Low += z.Lime.Low.Or(likely).Over(z.Area)
		l.High += z.Lime.High.Or(likely).Over(z.Area)
		// Ground that needs none by the survey does not make a budget of the rest.
		if likely > 0 && z.Lime.Test == nil {
			l.ByTest = false
		}
	}
	if l.Figured <= 0 {
		return
	}
	// A field that needs no lime has no rate, by test or otherwise.
	l.ByTest = l.ByTest && l.Likely > 0
	f.Facts.Lime = unit.Some(l)
	// a mean over the lesser part of the ground would stand for the greater part, of which nothing is known
	if 2*l.Figured >= f.Facts.ByClass[suitability.Suited] {
		a := float64(l.Figured)
		f.Measures[Cost] = Between(float64(l.Low)/a, float64(l.Likely)/a, float64(l.High)/a)
	}
}
