package grower

import (
	"slices"
	"strings"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/nutrient"
	"rootworthy/suitability/nutrientplan"
)

// ratings tells what the figures of a soil test mean by the table that was chosen, so that a report can be read before the plan has it.
func (b *book) ratings() {
	if b.f.Table == nil || len(b.f.Table.Ratings) == 0 {
		return
	}
	t := report.Table{Caption: "What a soil test's figures mean: " + b.f.Table.Name, Columns: []report.Column{{Head: "Nutrient", Share: 0.2}, {Head: "Extracted by", Share: 0.3}, {Head: "Classes, pounds an acre", Share: 0.5}},
		Note: "The laboratory's own classes go first. A figure of another extractant is not read by this table."}
	for _, r := range b.f.Table.Ratings {
		by := "not stated"
		if x := r.Extractant.String(); x != "" {
			by = x
			// Which extractant a table means is told with its standing where it was not read in the source itself.
			if r.ExtractantSeen != nutrient.Read {
				by += " (" + string(r.ExtractantSeen) + ")"
			}
		}
		t.Rows = append(t.Rows, []string{measured(r.Nutrient), by, classSpans(r)})
	}
	b.add(t)
}

// measured names a nutrient as a soil test does, not as it is bought: its figures are of the element.
func measured(n nutrient.Nutrient) string { return strings.ToUpper(n.String()[:1]) + n.String()[1:] }

// classSpans prints "low up to 30, medium up to 60, high above".
// The figures of the table are turned from its printed unit into pounds an acre.
func classSpans(r nutrient.Rating) string {
	var parts []string
	for i, c := range r.Classes {
		switch {
		// Every class but the last has an end. A table without ends has classes that only a laboratory prints.
		case i < len(r.To):
			parts = append(parts, c+" up to "+words.Decimal(r.To[i]*r.PerPrinted.PoundsPerAcre(), 1))
		case len(r.To) > 0:
			parts = append(parts, c+" above")
		default:
			parts = append(parts, c)
		}
	}
	return strings.Join(parts, ", ")
}

// levels holds the soil tests against the levels that sources say to keep a soil at: a guide where no table could be read, and no rate.
func (b *book) levels(p *nutrientplan.Plan) {
	t := report.Table{Caption: "Soil tests beside levels that sources say to hold", Columns: []report.Column{{Head: "Nutrient", Share: 0.14}, {Head: "Level to hold, lb an acre", Share: 0.18}, {Head: "Zones below, with what was found", Share: 0.34}, {Head: "Source", Share: 0.34}},
		Note: "A guide, not a rate. The sources do not name the extractant of their levels."}
	type key struct {
		n           nutrient.Nutrient
		least, most float64
		source      string
	}
	var order []key
	below := map[key][]string{}
	for _, z := range p.Zones {
		for _, l := range z.Levels {
			// Zones below one level of one source stand in one row.
			k := key{l.Hold.Nutrient, l.Hold.Least.PoundsPerAcre(), l.Hold.Most.PoundsPerAcre(), sourceOf(l.Source, l.Seen)}
			if !slices.Contains(order, k) {
				order = append(order, k)
			}
			if l.Against == nutrient.BelowHold {
				below[k] = append(below[k], shown(z.ID)+": "+words.Decimal(l.Value.PoundsPerAcre(), 0))
			}
		}
	}
	for _, k := range order {
		level := words.Decimal(k.least, 0) + " or more"
		if k.most > 0 {
			level = span(k.least, k.most)
		}
		t.Rows = append(t.Rows, []string{measured(k.n), level, dash(list(below[k])), k.source})
	}
	if len(t.Rows) > 0 {
		b.add(t)
	}
}
