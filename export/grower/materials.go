package grower

import (
	"strings"

	"rootworthy/export/words"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/nutrientplan"
	"rootworthy/suitability/seedplan"
)

// material is something that goes onto a zone.
// A missing rate is not known; a rate that is known to be nothing has none set.
type material struct {
	zone         *suitability.Zone
	what, unit   string            // unit of the rate, an acre; mass is in the same without the acre
	rate         unit.Opt[float64] // customary, as the unit says
	least, most  unit.Opt[float64] // of a span to budget with, or of the tests
	mass         unit.Opt[float64]
	none         bool // nothing is asked for, which is an answer
	when, source string
	note         string
}

// materials lists what goes onto all planned zones: lime, nutrients in the order of their importance, seed.
func (f *Farm) materials() []material {
	var out []material
	plans, seeds := map[string]*nutrientplan.ZonePlan{}, map[string]*seedplan.Amount{}
	if f.Nutrients != nil {
		for i := range f.Nutrients.Zones {
			plans[f.Nutrients.Zones[i].ID] = &f.Nutrients.Zones[i]
		}
	}
	// The seed plan is always there; it may have no zone.
	for i := range f.Seed.Zones {
		seeds[f.Seed.Zones[i].ID] = &f.Seed.Zones[i]
	}
	for _, z := range f.Zones {
		if z.Why != "" {
			continue
		}
		if m, ok := limeOf(&z); ok {
			out = append(out, m)
		}
		if p := plans[z.ID]; p != nil {
			out = append(out, nutrientsOf(z.Zone, p)...)
		}
		if a := seeds[z.ID]; a != nil {
			out = append(out, f.seedOf(z, a))
		}
	}
	return out
}

// limeOf is the lime of a zone as the run has it, less what the record tells of.
func limeOf(planned *Zone) (m material, ok bool) {
	z := planned.Zone
	left, passes := planned.limeLeft()
	product, ok := z.Lime.Product.Get()
	if !ok || product == 0 || left == 0 {
		return m, false
	}
	m = material{zone: z, what: "Lime as spread", unit: "short ton", rate: unit.Some(left.ShortTonsPerAcre()), source: words.Method(z)}
	if mass, ok := z.Lime.ProductMass.Get(); ok {
		m.mass = unit.Some(float64(left/product) * mass.ShortTons())
	}
	// The span is what the ground may need, as pure lime; the rate is of the product. They differ by what the product is worth, and the note
	// says so.
	if low, ok := z.Lime.Low.Get(); ok {
		m.least, m.most = unit.Some(low.ShortTonsPerAcre()), unit.Some(z.Lime.High.Or(low).ShortTonsPerAcre())
	}
	m.when = words.Count(passes, "pass", "yearly passes")
	m.note = "a budget, not a rate: the soil test sets it; the span is of pure lime"
	if words.ByTest(&z.Lime) {
		m.note = "by soil test"
	}
	if spread := z.Lime.Passes - passes; spread > 0 {
		m.note += "; " + words.Count(spread, "pass is", "passes are") + " spread already, and the span is of all"
	}
	if pass := planned.Limed.Begun(); pass > 0 {
		m.note += "; " + words.LimeMissing(planned.Limed, pass)
	}
	return m, true
}

// nutrientsOf is the fertilizer of a zone: rates and the products that carry them, or without a test the span to budget with.
func nutrientsOf(z *suitability.Zone, p *nutrientplan.ZonePlan) []material {
	var out []material
	for _, r := range p.Rates {
		m := material{zone: z, what: sold(r.Nutrient), unit: "lb", source: sourceOf(r.Source, r.Seen), when: applications(r.When)}
		if rate, ok := r.Rate.Get(); ok {
			m.rate, m.mass = unit.Some(rate.PoundsPerAcre()), unit.Some(r.Mass.Or(0).Pounds())
			m.least, m.most = unit.Some(r.Least.PoundsPerAcre()), unit.Some(r.Most.PoundsPerAcre())
		}
		// Nothing needed is an answer; no rate for want of a table or a test is none.
		m.none = !r.Rate.Has() && r.Refusal == nil
		m.note = rateNote(r)
		out = append(out, m)
	}
	for _, a := range p.Products {
		out = append(out, material{zone: z, what: "Product " + shown(a.Product), unit: "lb", rate: unit.Some(a.Rate.PoundsPerAcre()), mass: unit.Some(a.Mass.Pounds()),
			when: applications(a.When), source: "the rate of " + a.For.String() + " and the label you gave", note: "to buy for the " + a.For.String() + " above"})
	}
	for _, e := range p.Expect {
		note := "no test, no rate: a span to budget with"
		if p.Why == nutrientplan.WhyNoTable {
			note = "no table of rates, no rate: a span to budget with"
		}
		// What hay takes off says nothing of what the soil holds.
		if e.Source == nutrientplan.Removal {
			note += "; a rich soil needs none of it"
		}
		out = append(out, material{zone: z, what: sold(e.Nutrient), unit: "lb", source: sourceOf(e.Source, e.Seen),
			least: unit.Some(e.Least.PoundsPerAcre()), most: unit.Some(e.Most.PoundsPerAcre()), note: note})
	}
	return out
}

// seedOf is the seed of a zone: of the bag where a tag was given, else pure live seed.
// The first of the rules is the one that the rate goes by; the others stand beside it in the section on seed.
func (f *Farm) seedOf(z Zone, a *seedplan.Amount) material {
	rule := f.Seed.Rules[0]
	m := material{zone: z.Zone, what: "Pure live seed", unit: "lb", rate: unit.Some(f.Seed.PLS.PoundsPerAcre()), mass: unit.Some(a.PLS.Pounds()),
		when: window(z.Plan.Window), source: words.Founding(rule.Source, rule.Status)}
	m.least, m.most = unit.Some(rule.Least.PoundsPerAcre()), unit.Some(rule.Most.PoundsPerAcre())
	if f.Tag != nil {
		m.what, m.rate, m.mass = "Seed as bought", unit.Some(f.Seed.Bulk.PoundsPerAcre()), unit.Some(a.Bulk.Pounds())
		m.note = "the span is of pure live seed; the bag holds " + words.Decimal(100*float64(f.Seed.Share), 1) + " % of it by its tag"
	}
	return m
}

// sold names a nutrient as it is bought.
func sold(n nutrient.Nutrient) string {
	if n == nutrient.Potassium || n == nutrient.Phosphorus {
		return strings.ToUpper(n.String()[:1]) + n.String()[1:] + " as " + n.Sold()
	}
	return strings.ToUpper(n.String()[:1]) + n.String()[1:]
}

// applications prints "half in spring, …" with amounts.
func applications(list []nutrientplan.Application) string {
	var out []string
	for _, a := range list {
		s := a.When
		if len(list) > 1 {
			s = words.Decimal(a.Rate.PoundsPerAcre(), 1) + " lb " + s
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

// rateNote says why there is no rate or none is needed, and what to watch.
func rateNote(r nutrientplan.Rate) string {
	var out []string
	if len(r.Classes) > 0 {
		out = append(out, "soil test: "+strings.Join(compact(r.Classes), ", "))
	}
	switch {
	case !r.Rate.Has() && r.Refusal != nil:
		out = append(out, "no rate: "+message(r.Refusal.Error()))
	case r.Why != "":
		out = append(out, words.NutrientWhy(r.Why, words.Landowner))
	}
	for _, n := range r.Notes {
		// A note may be of the table or of the plan; words give an unknown code back as it is.
		if s := words.NutrientNote(n, words.Landowner); s != n {
			out = append(out, s)
		} else {
			out = append(out, words.PlanNote(n, words.Landowner))
		}
	}
	if r.EveryYears > 1 {
		out = append(out, "every "+words.Count(r.EveryYears, "year", "years"))
	}
	return strings.Join(out, "; ")
}

// compact leaves out classes that repeat the one before: several tests of a zone often say the same.
func compact(list []string) []string {
	var out []string
	for _, s := range list {
		if len(out) == 0 || out[len(out)-1] != s {
			out = append(out, s)
		}
	}
	return out
}

// message makes a longer message fit to be shown.
func message(s string) string { return words.Shown(s, 240) }

// sourceOf names a source with how it was come by.
func sourceOf(source string, seen nutrient.Seen) string {
	if seen == nutrient.Read || source == "" {
		return source
	}
	return source + " (" + string(seen) + ")"
}

// acresText prints areas in tables.
func acresText(a unit.Area) string { return words.Acres(a) }
