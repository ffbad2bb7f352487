package money

import (
	"fmt"
	"slices"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/economics"
)

// prices is the table of all figures with their sources.
func (p *paper) prices() {
	t := report.Table{Caption: "Figures used", Columns: []report.Column{{Head: "Item", Share: 0.27}, {Head: "Figure", Share: 0.3}, {Head: "Year", Share: 0.09}, {Head: "Source", Share: 0.34}}}
	row := func(name string, x economics.Price) {
		year, source := "–", shownLong(x.Source)
		if x.Year > 0 {
			year = fmt.Sprint(x.Year)
			if p.s.Prices.Age(x) >= economics.OldAge {
				year += ", old"
			}
		}
		if x.Own {
			source += " (comes with the program)"
		}
		figure := givenSpan(x) + " " + x.Unit.Name
		if r := x.Shown(); r.Spread() {
			figure = fmt.Sprintf("%s, likely %s, %s", givenSpan(x), given(r.Likely), x.Unit.Name)
		}
		t.Rows = append(t.Rows, []string{name, figure, year, source})
	}
	for _, i := range economics.Items() {
		if x, ok := p.s.Prices.Of(i); ok && !p.idle(x) {
			row(ItemName(i), x)
		}
	}
	for _, x := range p.s.Prices.Products {
		row("Fertilizer: "+shown(x.Name), x.Price)
	}
	t.Note = fmt.Sprintf("Money is in %s. Prices hold for %s.", p.b.currency(), shown(p.s.Prices.Place))
	p.head("Your prices", "prices")
	p.add(t)
}

// idle says whether a figure of the program's own multiplies nothing, because the file does not give its price.
func (p *paper) idle(x economics.Price) bool {
	// Figures that come with the program are shown only where they take part: else the list would seem to say that somebody priced them.
	partner := map[economics.Item]economics.Item{economics.SeedRate: economics.Seed, economics.PotashTaken: economics.Potash, economics.RFQGain: economics.RFQPoint,
		economics.NitrogenSaved: economics.SodBeforeNitrogen, economics.LifeMarginal: economics.YieldMarginal, economics.LifeUnsuited: economics.YieldUnsuited}
	of, ok := partner[x.Item]
	return x.Own && ok && !p.s.Prices.Has(of)
}

// mostSource is how many letters of a source are shown.
const mostSource = 240

// shownLong is [shown] for a source, which may be a whole citation.
func shownLong(s string) string { return words.Shown(s, mostSource) }

// limits tell what is not in the sums and what they take for granted.
func (p *paper) limits() {
	items := economics.Judgements()
	if l := p.b.leftOut(); l != "" {
		items = append([]string{l}, items...)
	}
	var floor, unpriced, bare unit.Area
	for i := range p.s.Zones {
		z := &p.s.Zones[i]
		// Of ground to sow alone: what is left in grass costs nothing.
		if z.Floor && z.Sow {
			floor += z.Area
		}
		if l := &p.b.Run.Zones[i].Lime; z.Sow && l.Likely.Or(0) > 0 && !l.Low.Has() {
			bare += z.Area
		}
		// Unsuited ground is not sown whatever its lime.
		if z.Why == economics.WhyNoLime && z.Class != suitability.Unsuited {
			unpriced += p.b.Run.Zones[i].Area
		}
	}
	if bare > 0 {
		items = append(items, fmt.Sprintf("On %s acres the lime comes from a soil test whose error no source states. So its cost has no range there.", acresText(bare)))
	}
	if floor > 0 {
		items = append(items, fmt.Sprintf("On %s acres the lime figure is the least that may be needed. They may cost more.", acresText(floor)))
	}
	if unpriced > 0 {
		items = append(items, fmt.Sprintf("%s acres may need lime, but nobody can say how much. They are in no sum: test the soil.", acresText(unpriced)))
	}
	if s := p.unfed(); s != "" {
		items = append(items, s)
	}
	if s := p.budget(); s != "" {
		items = append(items, s)
	}
	p.head("What these sums take for granted", "limits")
	p.add(report.Bullets{Items: items})
}

// budget warns where lime comes from the survey alone.
// "Half to twice" is the band of the screening table, which stands with the lime plan.
func (p *paper) budget() string {
	for i := range p.s.Zones {
		if z := &p.b.Run.Zones[i]; p.s.Zones[i].Sow && z.Lime.Likely.Or(0) > 0 && !words.ByTest(&z.Lime) {
			return "Lime from the soil survey is a budget, from half to twice the likely figure. A soil test sets the rate, and so the cost."
		}
	}
	return ""
}

// unfed tells of nutrients that a plan has no rate of.
func (p *paper) unfed() string {
	var out []string
	for _, n := range nutrient.Nutrients() {
		if slices.ContainsFunc(p.s.Zones, func(z economics.Zone) bool { return z.Sow && slices.Contains(z.Unfed, n) }) {
			out = append(out, n.String())
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "The cost of fertilizer by the nutrient plan holds no " + words.Listed(out) + ", for which the plan has no rate on some of the ground."
}
