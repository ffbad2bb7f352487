package report

import (
	"cmp"
	"fmt"
	"slices"

	"rootworthy/export/mapdraw"
	"rootworthy/export/words"
	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
)

// mostBars is how many fields a picture of chances shows, the best first.
const mostBars = 40

// chances is the consultant's picture and table of how sure each field is, and which test would settle it.
func (b *book) chances(order []int) {
	t := Table{Caption: "How sure, field by field", Columns: []Column{{"Field", 0.17, false}, {"Class of most of the field", 0.24, false}, {"Suited acres, 9 in 10", 0.12, true}, {"Lime, short tons, 9 in 10", 0.13, true},
		{"Which test would settle it", 0.34, false}},
		Note: chancesMean + " In brackets: the chance of the class of this report, give or take what the draws may be off by."}
	// Without a plan of samples there is nothing to say of tests, and the other columns take the room.
	if b.opt.Sampling == nil {
		t.Columns = []Column{{"Field", 0.25, false}, {"Class of most of the field", 0.4, false}, {"Suited acres, 9 in 10", 0.17, true}, {"Lime, short tons, 9 in 10", 0.18, true}}
	}
	tests := b.testsByField()
	var bars []mapdraw.Bar
	for _, i := range order {
		s, f := &b.sums[i], b.surely(i)
		if f == nil {
			continue
		}
		row := []string{fieldName(s.Field), words.FieldChance(s.Class(), f.Class.Of, f.Error, words.Consultant), suitedSpan(f), limeSure(s, f)}
		if b.opt.Sampling != nil {
			row = append(row, tests[s.Field.ID])
		}
		t.Rows = append(t.Rows, row)
		// The picture shows the first by rank; the table below it has every field.
		if len(bars) < mostBars {
			bars = append(bars, chanceBar(fmt.Sprintf("%d. %s", s.Rank, fieldName(s.Field)), f.Class.Of))
		}
	}
	if len(t.Rows) == 0 {
		return
	}
	caption := "Chance of each class, by rank: S suited, M marginal, U unsuited, – not rated. The table has the figures."
	b.add(Heading{Level: 2, Text: "How sure", ID: "sure"}, Figure{ID: "chances", Caption: caption,
		Draw: func(o mapdraw.Options) *mapdraw.Drawing {
			return mapdraw.Bars("Chance of each class by field", bars, o)
		}}, t)
}

// chanceBar is one bar, a part for each class.
func chanceBar(name string, of func(suitability.Class) float64) mapdraw.Bar {
	bar := mapdraw.Bar{Label: name}
	for _, c := range suitability.Classes() {
		bar.Parts = append(bar.Parts, mapdraw.BarPart{Look: mapdraw.ClassLook(c), Share: of(c)})
	}
	return bar
}

// better is what the bags of a zone put right, in acres; tons of lime count as the plan weighs them.
// Chances times acres is the ground that comes right on average.
func better(p *sampling.Plan, z *sampling.Zone) float64 {
	w := z.Worth
	return (w.WrongNow-w.WrongThen)*z.Zone.Area.Acres() + (w.AstrayNow-w.AstrayThen).ShortTons()/p.Options.Tons
}

// testsByField says for each field which test puts most right, or why none is worth it.
func (b *book) testsByField() map[string]string {
	out := map[string]string{}
	p := b.opt.Sampling
	if p == nil {
		return out
	}
	best := map[string]*sampling.Zone{}
	for i := range p.Zones {
		z := &p.Zones[i]
		// Of equals the first stays, so that the same run names the same zone.
		if old := best[z.Zone.FieldID]; old == nil || better(p, z) > better(p, old) {
			best[z.Zone.FieldID] = z
		}
	}
	for id, z := range best {
		out[id] = words.Bags(z) + " in zone " + words.Decimal(float64(z.Zone.Number), 0) + ": " + worthText(z)
	}
	area := map[string]float64{} // of the zone that speaks for a field without bags
	for _, l := range p.Left {
		id := l.Zone.FieldID
		// The largest zone left speaks for the field: the reasons of slivers say nothing of it.
		if best[id] == nil && float64(l.Zone.Area) > area[id] {
			area[id], out[id] = float64(l.Zone.Area), "None: "+words.NoBag(l.Why, words.Consultant)
		}
	}
	return out
}

// worthText says what the bags of a zone are expected to put right.
func worthText(z *sampling.Zone) string {
	w := z.Worth
	lime := ""
	// Less prints as 0.0 tons put right.
	if tons := (w.AstrayNow - w.AstrayThen).ShortTons(); tons >= 0.05 {
		lime = words.Tons(tons) + " short tons of lime put right"
	}
	const told = 0.02 // less is the noise of the draws
	if w.WrongNow-w.WrongThen < told {
		// The bag was chosen all the same: without it no rate may be spread at all.
		if lime == "" {
			return "turns the lime budget into a rate"
		}
		return lime
	}
	text := fmt.Sprintf("class wrong now %s (%s), then %s (%s)", words.Chance(w.WrongNow), words.Fixed(w.WrongNow, 2), words.Chance(w.WrongThen), words.Fixed(w.WrongThen, 2))
	if lime != "" {
		text += "; " + lime
	}
	return text
}

// bestTests lists the zones whose tests put most right, the best first.
func (b *book) bestTests() {
	p := b.opt.Sampling
	if p == nil || len(p.Zones) == 0 {
		return
	}
	zones := make([]*sampling.Zone, len(p.Zones))
	for i := range p.Zones {
		zones[i] = &p.Zones[i]
	}
	slices.SortStableFunc(zones, func(x, y *sampling.Zone) int { return cmp.Compare(better(p, y), better(p, x)) })
	t := Table{Caption: "Soil tests that put most right, the best first", Columns: []Column{{"Zone", 0.16, false}, {"Acres", 0.09, true}, {"Bags", 0.25, false}, {"What they put right", 0.5, false}},
		Note: fmt.Sprintf("Worth is weighed as acres that get their right class, %s short tons of lime put right counting as an acre.", words.Decimal(p.Options.Tons, 1))}
	for _, z := range zones[:min(len(zones), mostListed)] {
		t.Rows = append(t.Rows, []string{zoneName(z.Zone), words.Acres(z.Zone.Area), words.Bags(z), worthText(z)})
	}
	if more := len(zones) - mostListed; more > 0 {
		t.Note += fmt.Sprintf(" And %s; the command sample plans them all, with the place of every core.", words.Count(more, "more zone", "more zones"))
	}
	b.add(t)
}
