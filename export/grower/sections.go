package grower

import (
	"fmt"
	"slices"
	"strings"

	"rootworthy/export"
	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability/caution"
	"rootworthy/suitability/nutrientplan"
	"rootworthy/suitability/season"
	"rootworthy/suitability/seedplan"
)

// steps tells how each step is done: words, thresholds, cautions in full, and what its days rest on.
func (b *book) steps() {
	// A step is told once, whatever zones, passes and years it stands in.
	// The first step of each kind lends its rules' names; rests gathers the rules of all of them, since zones may differ.
	first := map[season.Code]season.Step{}
	rests := map[season.Code][]string{}
	for _, z := range b.f.Zones {
		for _, s := range z.Plan.All() {
			if _, ok := first[s.Code]; !ok {
				first[s.Code] = s
			}
			for _, r := range s.Rules {
				if w := words.Sentence(words.SeasonRule(r)); !slices.Contains(rests[s.Code], w) {
					rests[s.Code] = append(rests[s.Code], w)
				}
			}
		}
	}
	if len(first) == 0 {
		return
	}
	b.add(report.PageBreak{}, report.Heading{Level: 2, Text: "How each step is done", ID: "steps", Running: b.Title, Open: true})
	for _, c := range season.Codes() {
		s, ok := first[c]
		if !ok {
			continue
		}
		// So that its name is that of the work, not of one pass or year.
		s.Pass, s.Passes, s.Year = 0, 0, 0
		source, status := c.Source()
		items := []string{"How it is done: " + words.Founding(source, status) + "."}
		for _, t := range c.Thresholds() {
			items = append(items, words.InsectThreshold(t))
		}
		items = append(items, bewares(c.Cautions())...)
		if len(rests[c]) > 0 {
			items = append(items, "The days rest on: "+strings.Join(rests[c], " "))
		}
		b.add(report.Heading{Level: 3, Text: words.StepName(s), ID: "step-" + string(c)}, report.Para{Text: words.Sentence(words.StepText(c, words.Landowner, b.f.Run.Profile))})
		b.add(report.Bullets{Items: items})
	}
}

// bewares puts cautions into sentences with their sources.
func bewares(list []caution.Caution) []string {
	var out []string
	for _, c := range list {
		out = append(out, fmt.Sprintf("Beware: %s (%s).", words.Caution(c.Code, words.Landowner), words.Founding(c.Source, c.Status)))
	}
	return out
}

// nutrients tells what the fertilizer rests on, its sums and what hay takes off.
func (b *book) nutrients() {
	p := b.f.Nutrients
	if p == nil || len(p.Zones) == 0 {
		return
	}
	b.add(report.Heading{Level: 2, Text: "Nutrients", ID: "nutrients"})
	switch {
	// No table is taken by itself where several states or regions might be meant.
	case b.f.Table == nil:
		b.add(report.Para{Text: "No state's table of rates was chosen, so only a laboratory's own advice gives a rate. Name a table with --nutrient-table."})
	case !b.f.Tested:
		b.add(report.Para{Text: "No soil test was given, so there is no rate: the tables above tell what the test may ask for. Budget with it, spread nothing by it."})
	}
	if t := b.f.Table; t != nil {
		b.add(report.Para{Text: fmt.Sprintf("Table of rates: %s, %s (%s).", t.Name, t.Edition, sourceOf(t.Source, t.Seen))})
	}
	if tests := b.toTest(); tests != "" {
		b.add(report.Para{Text: tests})
	}
	b.add(report.Bullets{Items: append(b.nutrientNotes(), bewares(caution.At(caution.Fertilizing))...)})
	b.ratings()
	b.levels(p)
	b.seedDose(p)
	b.removal(p)
}

// toTest says which nutrients are still to be measured on some ground.
func (b *book) toTest() string {
	var names []string
	for _, n := range nutrient.Nutrients() {
		if slices.ContainsFunc(b.f.Nutrients.Zones, func(z nutrientplan.ZonePlan) bool { return slices.Contains(z.ToTest, n) }) {
			names = append(names, n.String())
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "Still to be tested, on some of the ground or all of it: " + words.Listed(names) + "."
}

// nutrientNotes lists what is to be watched in any zone, each once, in the order of the list.
func (b *book) nutrientNotes() []string {
	var out []string
	for _, n := range nutrientplan.Notes() {
		zones := 0
		for _, z := range b.f.Nutrients.Zones {
			if slices.Contains(z.Notes, n) {
				zones++
			}
		}
		if zones > 0 {
			out = append(out, words.Sentence(words.PlanNote(n, words.Landowner)))
		}
	}
	return out
}

// seedDose tells how much molybdenum may go on the seed.
func (b *book) seedDose(p *nutrientplan.Plan) {
	if d := p.SeedDose; d != nil {
		b.add(report.Para{Text: fmt.Sprintf("Molybdenum on the seed: at most %s oz (%s g) for all %s lb of seed, the same as %s oz of sodium molybdate. Never exceed it. Source: %s.",
			words.Decimal(d.Mo.Ounces(), 2), words.Decimal(d.Mo.Grams(), 1), words.Decimal(d.Seed.Pounds(), 0), words.Decimal(d.Molybdate.Ounces(), 2), d.Source)})
	}
}

// removal tells what the expected hay takes off, and the nitrogen that alfalfa saves.
func (b *book) removal(p *nutrientplan.Plan) {
	if y, ok := b.f.Yield.Get(); ok && len(p.Removed) > 0 {
		t := report.Table{Caption: fmt.Sprintf("What %s short tons of hay an acre take off in a year", words.Decimal(y.ShortTonsPerAcre(), 1)),
			Columns: []report.Column{{Head: "Nutrient", Share: 0.24}, {Head: "Pounds an acre", Share: 0.18, Number: true}, {Head: "Pounds, all planned ground", Share: 0.2, Number: true}, {Head: "Source", Share: 0.38}},
			Note:    "Sources differ, so each stands by itself."}
		for _, r := range p.Removed {
			least, most := r.Removal.At(y)
			t.Rows = append(t.Rows, []string{sold(r.Removal.Nutrient), span(least.PoundsPerAcre(), most.PoundsPerAcre()), span(r.Least.Pounds(), r.Most.Pounds()), sourceOf(r.Removal.Source, r.Removal.Seen)})
		}
		b.add(t)
	}
	if p.Saved > 0 {
		b.add(report.Para{Text: fmt.Sprintf("Nitrogen that the grass alone would need in a year: %s lb an acre, %s lb on all planned ground (Bouton, University of Georgia; other figures differ widely).",
			words.Decimal(nutrient.NitrogenSaved.PoundsPerAcre(), 0), words.Decimal(p.Saved.Pounds(), 0))})
	}
}

// span prints a range in whole numbers, or the one number where both round to it.
func span(least, most float64) string {
	if words.Decimal(least, 0) == words.Decimal(most, 0) {
		return words.Decimal(least, 0)
	}
	return words.Decimal(least, 0) + " to " + words.Decimal(most, 0)
}

// seed tells rate, rows, order, calibration and the plants to expect.
func (b *book) seed() {
	p := b.f.Seed
	if p == nil || len(p.Zones) == 0 {
		return
	}
	b.add(report.Heading{Level: 2, Text: "Seed", ID: "seed"})
	var items []string
	items = append(items, fmt.Sprintf("Sow %s lb of pure live seed an acre, %s, in rows %s in apart: %s seeds in a square foot, %s along a foot of row.", words.Decimal(p.PLS.PoundsPerAcre(), 1),
		string(p.Method), words.Decimal(p.Spacing.Inches(), 1), words.Decimal(p.Seeds.PerSquareFoot(), 0), words.Decimal(p.PerRow.PerFoot(), 0)))
	if t := b.f.Tag; t != nil {
		items = append(items, fmt.Sprintf("By its tag %s %% of the bag is pure live seed, so sow %s lb an acre of what is in the bag: %s lb for all planned ground, %s lb with reserve, %s.",
			words.Decimal(100*float64(p.Share), 1), words.Decimal(p.Bulk.PoundsPerAcre(), 1), words.Decimal(p.Farm.Pounds(), 0), words.Decimal(p.Order.Pounds(), 0), words.Count(p.Bags, "bag", "bags")))
	} else {
		items = append(items, fmt.Sprintf("All planned ground takes %s lb of pure live seed. How much to buy follows from the tag: give it with --seed-tag.", words.Decimal(p.Farm.Pounds(), 0)))
	}
	for _, n := range p.Notes {
		items = append(items, words.Sentence(words.SeedNote(n, words.Landowner)))
	}
	b.add(report.Bullets{Items: items})
	rates := report.Table{Caption: "What sources say of the rate, pure live seed", Columns: []report.Column{{Head: "Pounds an acre", Share: 0.18}, {Head: "Rows, inches", Share: 0.16}, {Head: "Source", Share: 0.66}}}
	for _, r := range p.Rules {
		rows := "–"
		// Not every source says for which rows its rate is.
		if r.RowTo > 0 {
			rows = span(r.RowFrom.Inches(), r.RowTo.Inches())
		}
		rates.Rows = append(rates.Rows, []string{span(r.Least.PoundsPerAcre(), r.Most.PoundsPerAcre()), rows, words.Founding(r.Source, r.Status)})
	}
	b.add(rates)
	b.calibration()
	b.plants()
}

// trialFeet is the distance that a drill is tried over.
const trialFeet = 100

// calibration is the sheet for the drill.
// Without a tag nobody knows how much of the bag lives, and broadcast seed has no rows.
func (b *book) calibration() {
	if b.f.Tag == nil || b.f.Seed.Spacing == 0 {
		return
	}
	trial := seedplan.Trial{Spacing: b.f.Seed.Spacing, Rows: 1, Distance: trialFeet * unit.Foot}
	t := report.Table{Caption: fmt.Sprintf("Drill check: what one row drops in %d ft", trialFeet), Columns: []report.Column{{Head: "Of the rate", Share: 0.2}, {Head: "Bag seed, lb an acre", Share: 0.27, Number: true}, {Head: "Grams in a row", Share: 0.25, Number: true},
		{Head: "Live seeds in a foot", Share: 0.28, Number: true}}, Note: "Catch what one row drops, weigh it, and set the drill until it drops the weight of 100 %. The sheet is arithmetic from the rate and the tag."}
	for _, l := range seedplan.Sheet(*b.f.Tag, trial, b.f.Seed.PLS) {
		t.Rows = append(t.Rows, []string{words.Decimal(100*l.Share.Or(1), 0) + " %", words.Decimal(l.Bulk.PoundsPerAcre(), 1), words.Decimal(l.Row.Grams(), 1), words.Decimal(l.PerRow.PerFoot(), 0)})
	}
	b.add(t)
}

// plants is what to count when, and what to do below it.
func (b *book) plants() {
	if len(b.f.Seed.Milestones) == 0 {
		return
	}
	t := report.Table{Caption: "Plants to expect", Columns: []report.Column{{Head: "Count on", Share: 0.2}, {Head: "Plants in a square foot", Share: 0.17, Number: true}, {Head: "Too few under", Share: 0.13, Number: true}, {Head: "Then", Share: 0.26}, {Head: "Source", Share: 0.24}},
		Note: "Days are counted from the first day of the earliest sowing window of this plan; count from your own day."}
	for _, m := range b.f.Seed.Milestones {
		least := "–"
		if l, ok := m.Least.Get(); ok {
			least = words.Decimal(l.PerSquareFoot(), 0)
		}
		t.Rows = append(t.Rows, []string{date(m.Day), words.Decimal(m.Expect.PerSquareFoot(), 0), least, words.SeedAction(m.Below, words.Landowner), words.Founding(m.Source, m.Status)})
	}
	b.add(t)
}

// mostVarieties is how many rows of the short list are shown.
const mostVarieties = 60

// varieties is the short list of the user's own table.
func (b *book) varieties() {
	if len(b.f.Varieties) == 0 {
		return
	}
	t := report.Table{Caption: "Varieties of your table", Columns: []report.Column{{Head: "Variety", Share: 0.22}, {Head: "Verdict", Share: 0.2}, {Head: "What fails or is not known", Share: 0.36}, {Head: "Yield, short tons an acre", Share: 0.22}},
		Note: "Wanted: fall dormancy 5 to 8 and at least moderate resistance to each disease in the table (common practice, no source). Yields are compared within a trial alone, by its least significant difference."}
	for _, v := range b.f.Varieties[:min(len(b.f.Varieties), mostVarieties)] {
		var traits []string
		for _, x := range v.Traits {
			// Traits hold what fails and what is not known; what passes is not listed.
			found := "not known"
			if x.Fails {
				found = shown(x.Found)
			}
			traits = append(traits, fmt.Sprintf("%s: %s, wanted %s", shown(x.Name), found, shown(x.Wanted)))
		}
		if elsewhere(v.Region, b.f.Region.Where) {
			traits = append(traits, fmt.Sprintf("listed for %s; this plan is for %s", shown(v.Region), b.f.Region.Where))
		}
		yield := "–"
		if y, ok := v.Yield.Get(); ok {
			yield = words.Decimal(y.ShortTonsPerAcre(), 2)
			switch {
			case v.Top:
				yield += ", among the best of its trial"
			case v.NoLSD:
				yield += ", the trial gives no least difference"
			}
		}
		t.Rows = append(t.Rows, []string{shown(v.Name), words.Verdict(string(v.Verdict), words.Landowner), dash(strings.Join(traits, "; ")), yield})
	}
	if more := len(b.f.Varieties) - mostVarieties; more > 0 {
		t.Note += " " + words.Count(more, "more row is", "more rows are") + " not shown."
	}
	b.add(report.Heading{Level: 2, Text: "Varieties", ID: "varieties"}, t)
}

// elsewhere says whether a table lists a variety for a region that the plan is not for. Tables name regions as they like, and a wider one may
// hold this one: so it is told and fails nothing.
func elsewhere(region, plan string) bool {
	region = strings.ToLower(strings.TrimSpace(region))
	return region != "" && plan != "" && !strings.Contains(strings.ToLower(plan), region)
}

// sources say in words where the plan comes from.
func (b *book) sources() {
	f := b.f
	items := export.Sources(&f.Run.Provenance)
	items = append(items, fmt.Sprintf("Sowing window: %s, %s.", f.Region.Where, words.Founding(f.Region.Source, f.Region.Status)),
		"Ratings, lime and passes are those of the run, made by "+f.Run.Provenance.Program+runDate(f)+"; nothing of them was worked out anew.")
	if f.Normals != nil {
		items = append(items, "Frost and soil temperature: your file "+shown(f.Normals.Name)+".")
	} else {
		items = append(items, "Frost and soil temperature: not given, so no date rests on them. Give a file with --normals.")
	}
	items = append(items, "\"Common practice, no source\" is what the trade does and no publication was found for. \"From memory, not checked\" is to be checked before you rely on it. \"Our proposal\" is a judgement of this program.",
		"The page in HTML is the form to use with a screen reader.")
	b.add(report.Heading{Level: 2, Text: "Where this comes from", ID: "sources"}, report.Bullets{Items: items})
}

// runDate says from which day the run counts, which is not the plan's: lime that was a year off then may be due now.
func runDate(f *Farm) string {
	if f.Run.Provenance.Date == "" {
		return ""
	}
	return " and counted from " + words.Date(f.Run.Provenance.Date)
}
