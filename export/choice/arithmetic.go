package choice

import (
	"fmt"
	"strings"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability/ranking"
)

// arithmetic shows how the score comes about: scales, weights and the first field worked out.
func (b *book) arithmetic() {
	r, shares := b.r, b.r.Weights.Shares()
	named := "as you set them"
	if b.c.Proposed {
		named = ranking.ProposalName
	}
	t := report.Table{Caption: "Counts, weights (" + named + ") and marks", Columns: []report.Column{{Head: "Count", Share: 0.24}, {Head: "Weight", Share: 0.1, Number: true}, {Head: "Share of the score", Share: 0.12, Number: true},
		{Head: "Marks from 0 to 100", Share: 0.34}, {Head: "Who says so", Share: 0.2}}}
	for _, c := range ranking.Criteria() {
		s := r.Scales[c]
		t.Rows = append(t.Rows, []string{b.c.countName(c) + " (" + c.String() + ")", words.Decimal(r.Weights[c], 2), percent(shares[c]), b.c.marks(s), s.Source})
	}
	b.add(report.Heading{Level: 2, Text: "How the score is worked out", ID: "score"},
		report.Para{Text: "Each count gets marks on a scale of its own, which knows nothing of the other fields: a field more or less on the list never turns two others round. The score is the sum of marks times weights, over the sum of the weights."}, t,
		report.Para{Text: b.example()},
		report.Para{Text: "Weights are a matter of taste, not of soil. Set your own with --weights and see what moves.", Tone: report.Small})
}

// countName names a criterion in plain words.
func (c *Choice) countName(x ranking.Criterion) string {
	switch x {
	case ranking.Suited:
		return "Ground suited once limed"
	case ranking.Cost:
		if c.Basis == ranking.ByMoney {
			return "Cost of a suited acre"
		}
		return "Lime for a suited acre, in place of its cost"
	case ranking.Ready:
		return "How soon half of it can be sown"
	case ranking.Sure:
		return "Chance that enough is suited"
	}
	return "Ground called suited that may prove worse"
}

// marks says how a scale gives marks.
func (c *Choice) marks(s ranking.Scale) string {
	// Two points of a scale show its shape better than its formula: marks are x/(x+h), or h/(x+h) where less is better.
	var half, thrice string
	switch s.Criterion {
	case ranking.Sure:
		return "the chance in hundredths"
	case ranking.Risk:
		return "100 less the share in hundredths"
	case ranking.Suited:
		// Half is the value that gets half of the marks; by x/(x+h) three times as much gets three quarters.
		half, thrice = acres(s.Half), acres(3*s.Half)
	case ranking.Cost:
		half, thrice = c.amount(s.Half)+" "+c.costUnit(), c.amount(3*s.Half)+" "+c.costUnit()
	case ranking.Ready:
		half, thrice = words.Decimal(s.Half, 0)+" days", words.Decimal(3*s.Half, 0)+" days"
	}
	if s.More {
		return fmt.Sprintf("%s gives 50, %s gives 75, nothing gives 0", half, thrice)
	}
	return fmt.Sprintf("nothing gives 100, %s gives 50, %s gives 25", half, thrice)
}

// acres prints square metres as acres.
func acres(m2 float64) string { return words.Decimal(unit.Area(m2).Acres(), 0) + " acres" }

// example works the score of the first field out.
// Marks and score run from 0 to 1 in the ranking and from 0 to 100 where they are shown.
func (b *book) example() string {
	f, shares := &b.r.Fields[0], b.r.Weights.Shares()
	var parts []string
	for _, c := range ranking.Criteria() {
		// What has no weight adds nothing and would only lengthen the sum.
		if shares[c] > 0 {
			parts = append(parts, fmt.Sprintf("%s × %s (%s)", words.Fixed(100*f.Marks[c], 1), words.Fixed(shares[c], 2), c))
		}
	}
	return fmt.Sprintf("The first field, %s: %s = %s.", b.c.FieldName(f.Field), strings.Join(parts, " + "), words.Fixed(100*f.Score, 1))
}

// limits shows the numbers that the advice hangs on.
func (b *book) limits() {
	t := report.Table{Caption: "Limits of the advice (" + ranking.ProposalName + ")", Columns: []report.Column{{Head: "Limit", Share: 0.2, Number: true}, {Head: "What it says", Share: 0.8}}}
	for _, l := range b.r.Rules.Limits() {
		t.Rows = append(t.Rows, []string{limitText(l), l.What})
	}
	b.add(report.Heading{Level: 2, Text: "When we say take, visit or leave", ID: "limits"},
		report.Para{Text: "The advice hangs on the field alone, not on its place. Leave: too little of it is likely to be suited, and most of it is known; or it is too small; or it cannot pay by your prices. Take: enough is suited with a good chance, and nothing asks for a visit. All others: visit first."}, t)
}

// limitText prints a limit as it is spoken: chances in ten, one acre in the singular.
func limitText(l ranking.Limit) string {
	switch {
	case l.Unit == "chance":
		return words.Chance(l.Value)
	case l.Unit == "acres" && l.Value == 1:
		return "1 acre"
	case l.Unit == "acres":
		return words.Decimal(l.Value, 1) + " acres"
	}
	return percent(l.Value)
}

// sources says what all of it rests on.
func (b *book) sources() {
	items := []string{
		"Chances: drawn from the ranges of the soil survey, or from your tests. They are chances of the ground as the survey describes it; what it does not know is not in them.",
		"Draws of figures: field by field. In truth fields on one soil err together, so their order among themselves is firmer than it looks here.",
		"Scales, weights and limits: proposals of this program. They rest on no publication.",
		"The weighted sum, the beaten field and the draws are textbook methods.",
	}
	if b.c.Prices != "" {
		items = append(items, "Prices: "+b.c.Prices+".")
	} else {
		items = append(items, "No prices were given, so lime stands for the cost. Give --prices to count in money.")
	}
	if b.c.Start == ranking.ByWait {
		items = append(items, "No day and region were given, so the wait after lime stands for the day of sowing. Give --date and --region.")
	} else {
		items = append(items, fmt.Sprintf("Days count from %s to the sowing window of %s.", words.Date(b.c.Date), b.c.regionName()))
	}
	for _, r := range b.c.Runs {
		for _, a := range r.Result.Provenance.Surveys {
			s := "Soil survey " + a.Symbol + ", " + words.Shown(a.Name, mostShown)
			// With several runs a survey can stand in the list more than once, with different dates.
			if len(b.c.Runs) > 1 {
				s = "Run " + words.Shown(r.Name, mostShown) + ": s" + s[1:]
			}
			if a.Date != "" {
				s += ", of " + words.Date(a.Date)
			}
			items = append(items, s+".")
		}
	}
	b.add(report.Heading{Level: 2, Text: "Where this comes from", ID: "sources"}, report.Bullets{Items: items})
}

// regionName is the region whose window counts.
func (c *Choice) regionName() string {
	if c.Region == "" {
		return "each run's region"
	}
	return c.Region
}
