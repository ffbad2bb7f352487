package grower

import (
	"strings"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/nutrientplan"
)

// material is something that goes onto a zone.
type material struct {
	zone         *suitability.Zone
	what, unit   string            // unit of the rate, an acre; mass is in the same without the acre
	rate         unit.Opt[float64] // customary, as the unit says
	least, most  unit.Opt[float64] // of a span to budget with, or of the tests
	mass         unit.Opt[float64]
	when, source string
	note         string
	nutrient     nutrient.Nutrient // for sums; none for lime and seed
}

// materials lists what goes onto all planned zones: lime, nutrients in the order of their importance, seed.
func (f *Farm) materials() []material {
	var out []material
	for _, z := range f.Zones {
		if z.Why != "" {
			continue
		}
		if m, ok := limeOf(z.Zone); ok {
			out = append(out, m)
		}
		out = append(out, f.nutrientsOf(z.Zone)...)
		if m, ok := f.seedOf(z); ok {
			out = append(out, m)
		}
	}
	return out
}

// limeOf is the lime of a zone as the run has it.
func limeOf(z *suitability.Zone) (m material, ok bool) {
	product, ok := z.Lime.Product.Get()
	if !ok || product == 0 {
		return m, false
	}
	m = material{zone: z, what: "Lime as spread", unit: "short ton", rate: unit.Some(product.ShortTonsPerAcre()), source: words.Method(z)}
	if mass, ok := z.Lime.ProductMass.Get(); ok {
		m.mass = unit.Some(mass.ShortTons())
	}
	if low, ok := z.Lime.Low.Get(); ok {
		m.least, m.most = unit.Some(low.ShortTonsPerAcre()), unit.Some(z.Lime.High.Or(low).ShortTonsPerAcre())
	}
	m.when = words.Count(z.Lime.Passes, "pass", "yearly passes")
	m.note = "a budget, not a rate: the soil test sets it; the span is of pure lime"
	if words.ByTest(&z.Lime) {
		m.note = "by soil test"
	}
	return m, true
}

// nutrientsOf is the fertilizer of a zone: rates, or without a test the span to budget with.
func (f *Farm) nutrientsOf(z *suitability.Zone) []material {
	p := f.zoneNutrients(z.ID)
	if p == nil {
		return nil
	}
	var out []material
	for _, r := range p.Rates {
		m := material{zone: z, what: sold(r.Nutrient), unit: "lb", nutrient: r.Nutrient, source: sourceOf(r.Source, r.Seen), when: applications(r.When)}
		if rate, ok := r.Rate.Get(); ok {
			m.rate, m.mass = unit.Some(rate.PoundsPerAcre()), unit.Some(r.Mass.Or(0).Pounds())
			m.least, m.most = unit.Some(r.Least.PoundsPerAcre()), unit.Some(r.Most.PoundsPerAcre())
		}
		m.note = rateNote(r)
		out = append(out, m)
	}
	for _, e := range p.Expect {
		out = append(out, material{zone: z, what: sold(e.Nutrient), unit: "lb", nutrient: e.Nutrient, source: sourceOf(e.Source, e.Seen),
			least: unit.Some(e.Least.PoundsPerAcre()), most: unit.Some(e.Most.PoundsPerAcre()), note: "no test, no rate: a span to budget with"})
	}
	return out
}

// zoneNutrients finds the fertilizer plan of a zone; nil where there is none.
func (f *Farm) zoneNutrients(id string) *nutrientplan.ZonePlan {
	if f.Nutrients == nil {
		return nil
	}
	for i := range f.Nutrients.Zones {
		if f.Nutrients.Zones[i].ID == id {
			return &f.Nutrients.Zones[i]
		}
	}
	return nil
}

// seedOf is the seed of a zone: of the bag where a tag was given, else pure live seed.
func (f *Farm) seedOf(z Zone) (m material, ok bool) {
	for _, a := range f.Seed.Zones {
		if a.ID != z.ID {
			continue
		}
		rule := f.Seed.Rules[0]
		m = material{zone: z.Zone, what: "Pure live seed", unit: "lb", rate: unit.Some(f.Seed.PLS.PoundsPerAcre()), mass: unit.Some(a.PLS.Pounds()),
			when: window(z.Plan.Window), source: words.Founding(rule.Source, rule.Status)}
		m.least, m.most = unit.Some(rule.Least.PoundsPerAcre()), unit.Some(rule.Most.PoundsPerAcre())
		if f.Tag != nil {
			m.what, m.rate, m.mass = "Seed as bought", unit.Some(f.Seed.Bulk.PoundsPerAcre()), unit.Some(a.Bulk.Pounds())
			m.note = "the span is of pure live seed; the bag holds " + words.Decimal(100*float64(f.Seed.Share), 1) + " % of it by its tag"
		}
		return m, true
	}
	return m, false
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
		out = append(out, "no rate: "+shown2(r.Refusal.Error()))
	case r.Why != "":
		out = append(out, words.NutrientWhy(r.Why, words.Landowner))
	}
	for _, n := range r.Notes {
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

func compact(list []string) []string {
	var out []string
	for _, s := range list {
		if len(out) == 0 || out[len(out)-1] != s {
			out = append(out, s)
		}
	}
	return out
}

// shown2 makes a longer message fit to be shown.
func shown2(s string) string { return words.Shown(s, 240) }

// sourceOf names a source with how it was come by.
func sourceOf(source string, seen nutrient.Seen) string {
	if seen == nutrient.Read || source == "" {
		return source
	}
	return source + " (" + string(seen) + ")"
}

// totals adds materials up by name and unit, in the order in which they first appear.
type totalled struct {
	what, unit string
	mass       float64
	area       unit.Area
	any        bool
}

// totalsOf adds up what has a mass.
func totalsOf(list []material) []totalled {
	var out []totalled
	for _, m := range list {
		i := -1
		for k := range out {
			if out[k].what == m.what && out[k].unit == m.unit {
				i = k
			}
		}
		if i < 0 {
			out, i = append(out, totalled{what: m.what, unit: m.unit}), len(out)
		}
		if mass, ok := m.mass.Get(); ok {
			out[i].mass, out[i].any, out[i].area = out[i].mass+mass, true, out[i].area+m.zone.Area
		}
	}
	return out
}

// acresText prints areas in tables.
func acresText(a unit.Area) string { return words.Acres(a) }

// guarded is text for a table that a spreadsheet may open.
func guarded(s string) string { return export.Guarded(s) }
