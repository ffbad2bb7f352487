package nutrientplan

import (
	"slices"

	"rootworthy/soils/nutrient"
	"rootworthy/suitability"
)

// Make plans all zones, in their order. Options are taken as [Options.Check] passes them.
func Make(zones []Zone, o Options) *Plan {
	p := &Plan{Stage: o.stage()}
	for i := range zones {
		z := planZone(&zones[i], o)
		p.Zones = append(p.Zones, z)
		// Ground without a test is planned ground all the same: it will be fed once it is tested.
		if z.Why != WhyUnsuited && z.Why != WhyNotRated {
			p.Planned += z.Area
		}
	}
	p.addUp(o)
	return p
}

// planZone plans one zone.
func planZone(z *Zone, o Options) ZonePlan {
	// o is a copy, so the stage of one zone does not reach the next
	if z.Stage != "" {
		o.Stage = z.Stage
	}
	out := ZonePlan{ID: z.ID, FieldID: z.FieldID, Area: z.Area, Why: whyNone(z, o)}
	switch out.Why {
	case "":
	// Ground to be sown is told what to expect; ground that is left in grass needs no budget.
	case WhyNoTest, WhyNoTable:
		out.expect(o)
		return out
	default:
		return out
	}
	// i goes along: a table's answers are in this order
	for i, n := range nutrient.Nutrients() {
		r := zoneRate(z, n, i, o)
		if rate, ok := r.Rate.Get(); ok {
			r.Mass = mass(rate, z)
		}
		// Other refusals (an extractant of another table, a class that nobody printed) are not mended by one more bag.
		if r.Refusal != nil && r.Refusal.Code == nutrient.NotMeasured {
			out.ToTest = append(out.ToTest, n)
		}
		out.Rates = append(out.Rates, r)
	}
	out.Levels = levels(z, o)
	out.Products = products(&out, o)
	out.Notes = zoneNotes(z, &out)
	return out
}

// levels holds the tests of a zone against every table's levels.
func levels(z *Zone, o Options) []nutrient.HeldLevel {
	var out []nutrient.HeldLevel
	tables := o.Levels
	// The table of the state comes first, before those that only say what to hold.
	if o.Table != nil && !slices.Contains(tables, o.Table) {
		// into a new list: that of the options belongs to the caller
		tables = append([]*nutrient.Table{o.Table}, tables...)
	}
	for _, t := range z.Tests {
		for _, tab := range tables {
			out = append(out, tab.Levels(t.Soil)...)
		}
	}
	return out
}

// whyNone says why a zone has no rates; "" when it has. The order is that of what has to change first: a soil that is not fit needs no
// test, one without a test no table.
func whyNone(z *Zone, o Options) string {
	switch {
	case z.Class == suitability.NotRated:
		return WhyNotRated
	case z.Class == suitability.Unsuited && !o.IncludeUnsuited:
		return WhyUnsuited
	case len(z.Tests) == 0:
		return WhyNoTest
	case o.Table == nil && !slices.ContainsFunc(z.Tests, func(t Test) bool { return len(t.Advised) > 0 }):
		return WhyNoTable
	}
	return ""
}

// expect fills in what a zone without a rate is told.
func (z *ZonePlan) expect(o Options) {
	if z.Why == WhyNoTest {
		// Soil is not tested for molybdenum: its dose goes by the seed, or by the state's rule for the leaves.
		z.ToTest = slices.DeleteFunc(nutrient.Nutrients(), func(n nutrient.Nutrient) bool { return n == nutrient.Molybdenum })
		z.Notes = []string{PotashFirst, PotashAsGrass, TestFirst}
	}
	for _, n := range nutrient.Nutrients() {
		if o.Table != nil {
			// the table's own span first: it is of a rate, what hay takes off is not
			if e, ok := o.Table.Expect(n, o.stage()); ok {
				z.Expect = append(z.Expect, e)
				continue
			}
		}
		if e, ok := byRemoval(n, o); ok {
			z.Expect = append(z.Expect, e)
		}
	}
}

// byRemoval is what a nutrient may cost a year where no table can say: what the expected hay takes off, over all sources. It is a
// span to budget with: rich soil needs none of it.
func byRemoval(n nutrient.Nutrient, o Options) (e nutrient.Expectation, ok bool) {
	yield, ok := o.Yield.Get()
	all := nutrient.Removals(n)
	if !ok || len(all) == 0 {
		return e, false
	}
	e = nutrient.Expectation{Nutrient: n, Source: Removal, Seen: nutrient.Read}
	for _, r := range all {
		// The least is zero: rich soil feeds a crop for years, and only a test knows whether it is rich.
		_, most := r.At(yield)
		e.Most = max(e.Most, most)
	}
	return e, true
}

// Removal is the source of an expectation that rests on what hay takes off; the sources stand with [Plan.Removed].
const Removal = "what the expected hay takes off in a year, the most that a source says"

// zoneNotes are the notes of a zone with rates, each once, in the order of [Notes].
func zoneNotes(z *Zone, p *ZonePlan) []string {
	// looked up by the list of notes, so the order of the map never shows
	has := map[string]bool{PotashFirst: true, PotashAsGrass: true, OldTest: z.Old, WideTest: z.Wide}
	for _, r := range p.Rates {
		rate := r.Rate.Or(0)
		has[BoronBroadcast] = has[BoronBroadcast] || r.Nutrient == nutrient.Boron && rate > 0
		has[NoProduct] = has[NoProduct] || rate > 0 && !slices.ContainsFunc(p.Products, func(a Amount) bool { return a.For == r.Nutrient })
		for _, n := range r.Notes {
			has[n] = true
		}
	}
	for _, a := range p.Products {
		has[BringsNitrogen] = has[BringsNitrogen] || a.Nitrogen > 0
	}
	has[MoreThanAsked], has[Harmful] = p.excess, p.harm
	return slices.DeleteFunc(Notes(), func(n string) bool { return !has[n] })
}
