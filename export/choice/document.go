package choice

import (
	"fmt"
	"strings"

	"rootworthy/export/mapdraw"
	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/suitability/ranking"
)

// mostListed is how many fields the page and the sheets list where there is no room for more of them; rank.csv has all.
const mostListed = 200

// book is the document in the making.
type book struct {
	report.Document
	c *Choice
	r *ranking.Ranking
}

// add puts blocks at the end of the document.
func (b *book) add(blocks ...report.Block) { b.Blocks = append(b.Blocks, blocks...) }

// Document builds the list of fields for page and paper: the answer, the list, how firm the order is, why, who is beaten, how the score is
// worked out, the limits of the advice, cautions and sources.
func (c *Choice) Document() *report.Document {
	title := "Which fields to take"
	if w := c.whose(); w != "" {
		title = w + ": which fields to take"
	}
	b := &book{Document: report.Document{Title: title, Subject: "Fields ranked for alfalfa in warm-season sod", Program: c.Program, Date: c.Date}, c: c, r: c.Ranking}
	b.answer()
	if len(b.r.Fields) > 0 {
		b.list()
		b.firmness()
		b.reasons()
		b.sureness()
		b.beaten()
	}
	// With no ranked field there is no order to explain; what is left are the fields without an answer, the limits, cautions and sources.
	b.unanswered()
	if len(b.r.Fields) > 0 {
		b.arithmetic()
	}
	b.limits()
	b.add(report.Heading{Level: 2, Text: "Before you act", ID: "cautions"}, report.Bullets{Items: words.Cautions()})
	b.sources()
	return &b.Document
}

// count is a number of fields.
func count(n int) string { return words.Count(n, "field", "fields") }

// answer says in a few lines how many fields to take and which come first.
func (b *book) answer() {
	for _, s := range b.c.Answer() {
		b.add(report.Para{Text: s, Tone: report.Answer})
	}
}

// Answer says in a few sentences what came of the ranking.
func (c *Choice) Answer() []string {
	r, n := c.Ranking, c.tally()
	out := []string{fmt.Sprintf("Of %s: take %s, visit %s first, leave %s.", count(c.Fields()), orNone(n[ranking.Take]), orNone(n[ranking.VisitFirst]), orNone(n[ranking.Leave]))}
	if len(r.Fields) == 0 {
		return append(out, "Nothing is known of any field, so there is no order.")
	}
	var first, firm []string
	for k := range r.Fields {
		f := &r.Fields[k]
		// A field can stand high and still have to be left: the verdict hangs on the field alone. The answer must not recommend it.
		if k < 3 && f.Verdict != ranking.Leave {
			first = append(first, c.FieldName(f.Field))
		}
		// Firm is who is among the first now and stays there in the draws; a field from further down that often climbs up is not.
		if f.StaysInTop() && f.Verdict != ranking.Leave && k < r.Top {
			firm = append(firm, c.FieldName(f.Field))
		}
	}
	if len(first) > 0 {
		out = append(out, "First on the list: "+words.Listed(first)+".")
	}
	// Where there is room for all, nothing can fall out of the first.
	if r.Top < len(r.Fields) {
		out = append(out, firmLine(firm, r.Top))
	}
	return out
}

// orNone prints a count.
func orNone(n int) string {
	if n == 0 {
		return "none"
	}
	return words.Decimal(float64(n), 0)
}

// mostFirm is how many fields a sentence names.
const mostFirm = 5

// firmLine says which fields are sure to be among the top.
func firmLine(firm []string, top int) string {
	switch n := len(firm); {
	case n == 0:
		return fmt.Sprintf("None is among the first %d in 9 draws of 10: the order is loose.", top)
	case n > mostFirm:
		return fmt.Sprintf("%d fields stay among the first %d in 9 draws of 10.", n, top)
	default:
		return fmt.Sprintf("Among the first %d in 9 draws of 10: %s.", top, words.Listed(firm))
	}
}

// listed is how many fields are listed: at least all that there is room for, within reason.
func (b *book) listed() int {
	return min(len(b.r.Fields), max(mostListed, min(b.r.Top, 10*mostListed)))
}

// more says where the rest is.
func (b *book) more() string {
	if n := len(b.r.Fields) - b.listed(); n > 0 {
		return fmt.Sprintf(" The other %s are in rank.csv.", count(n))
	}
	return ""
}

// list is a line a field.
func (b *book) list() {
	t := report.Table{Caption: "Fields in order", Columns: []report.Column{{Head: "Place", Share: 0.07, Number: true}, {Head: "Field", Share: 0.17}, {Head: "Advice", Share: 0.08},
		{Head: "Suited acres once limed", Share: 0.12, Number: true}, {Head: b.c.CostHead(), Share: 0.11, Number: true}, {Head: b.c.ReadyHead(), Share: 0.12}, {Head: "Enough is suited", Share: 0.16},
		{Head: "May prove worse", Share: 0.09, Number: true}, {Head: "Score of 100", Share: 0.08, Number: true}},
		Note: "In brackets: nine cases of ten for acres, low to high for cost. " + b.meaning() + b.more()}
	for k := range b.listed() {
		f := &b.r.Fields[k]
		t.Rows = append(t.Rows, []string{fmt.Sprint(f.Rank), b.c.FieldName(f.Field), advice(f.Verdict), suited(f.Field), b.c.cost(f.Field), b.c.ready(f.Field), Sure(f.Field), risk(f.Field), score(f.Score)})
	}
	b.add(report.Heading{Level: 2, Text: "The list", ID: "list"}, t)
}

// meaning explains the columns that do not explain themselves.
func (b *book) meaning() string {
	rules := b.r.Rules
	s := fmt.Sprintf("Sown from: the first day for at least half of the suited ground. Enough: %s of the field, or %s acres where that is less. May prove worse: share of the ground called suited.",
		percent(rules.Enough), words.Decimal(rules.EnoughArea.Acres(), 0))
	if lacks := b.c.unpriced(); lacks != "" {
		s += " " + lacks
	}
	return s
}

// unpriced says what is in no cost for want of a price; "" where nothing is. Whoever reads a cost must read this with it.
func (c *Choice) unpriced() string {
	if len(c.Unpriced) == 0 {
		return ""
	}
	return "Not in the cost, because the prices do not say: " + words.Listed(c.Unpriced) + ". So the true cost is higher."
}

// firmness is the picture of places with its table.
func (b *book) firmness() {
	r := b.r
	caption := "Mark: the place of a field. Line: the places that it has in 8 draws of 10."
	if len(r.Fields) > mostDrawn {
		caption += fmt.Sprintf(" The first %d are drawn.", mostDrawn)
	}
	t := report.Table{Caption: "Places", Columns: []report.Column{{Head: "Place", Share: 0.09, Number: true}, {Head: "Field", Share: 0.29}, {Head: "In 8 draws of 10", Share: 0.16},
		{Head: "The next comes before it", Share: 0.24}, {Head: fmt.Sprintf("Among the first %d", r.Top), Share: 0.22}}, Note: "Where a value is missing, the place is the middle one; the best and the worst stand beside it." + b.more()}
	for k := range b.listed() {
		f := &r.Fields[k]
		// The chance that the next one comes before it says more than a distance in points of a score.
		next, top := "it is the last", drawn(f.InTop)
		if k+1 < len(r.Fields) {
			next = drawn(f.Overtaken)
		}
		if f.Verdict == ranking.Leave {
			top = "to be left"
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(f.Rank), b.c.FieldName(f.Field), span(f.P10, f.P90) + bounds(f), next, top})
	}
	b.add(report.Heading{Level: 2, Text: "How firm the order is", ID: "firm"}, report.Para{Text: b.swaps()},
		report.Figure{ID: "places", Caption: caption, Draw: func(o mapdraw.Options) *mapdraw.Drawing { return b.c.picture(o) }}, t)
}

// drawn says a chance that was drawn: never sure and never without hope.
// A thousand draws tell no chance of less than one in a thousand.
func drawn(p float64) string { return words.Chance(min(max(p, 0.001), 0.999)) }

// swaps says how much of the order moves, and by what.
func (b *book) swaps() string {
	r := b.r
	return fmt.Sprintf("We drew %s orders. Weights moved halfway towards weights drawn blindly; figures moved within their ranges, each by itself. %sChances in this part may be off by %s in 100.",
		words.Decimal(float64(r.Draws), 0), b.c.turned(true), words.Decimal(100*r.Error, 0))
}

// Turned says how many pairs of fields a draw turns round; "" without a pair: of fields to be left, and of fields that share a place, none comes before the other.
func (c *Choice) Turned() string { return strings.TrimSpace(c.turned(false)) }

// turned is [Choice.Turned], with what weights and figures do apart where that is wanted.
func (c *Choice) turned(apart bool) string {
	s := c.Ranking.Swaps
	if s.Pairs == 0 {
		return ""
	}
	parts := ""
	if apart {
		parts = fmt.Sprintf(" (weights alone: %s; figures alone: %s)", words.Decimal(100*s.WeightsAlone, 0), words.Decimal(100*s.InputsAlone, 0))
	}
	return fmt.Sprintf("Of 100 pairs of fields, those to be left set aside, %s stand the other way round in a draw%s. ", words.Decimal(100*s.Both, 0), parts)
}

// span prints two places: "2 to 5".
func span(a, b int) string {
	if a == b {
		return fmt.Sprint(a)
	}
	return fmt.Sprintf("%d to %d", a, b)
}

// bounds says between which places a field with missing values may stand.
func bounds(f *ranking.Ranked) string {
	if f.Best == f.Worst {
		return ""
	}
	return fmt.Sprintf("; with what is missing %d to %d", f.Best, f.Worst)
}

// reasons is the advice with its grounds.
func (b *book) reasons() {
	t := report.Table{Caption: "Why", Columns: []report.Column{{Head: "Place", Share: 0.08, Number: true}, {Head: "Field", Share: 0.22}, {Head: "Advice", Share: 0.1}, {Head: "Because", Share: 0.6}}, Note: strings.TrimSpace(b.more())}
	for k := range b.listed() {
		f := &b.r.Fields[k]
		var why []string
		for _, w := range f.Why {
			why = append(why, because(f.Field, w))
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(f.Rank), b.c.FieldName(f.Field), advice(f.Verdict), strings.Join(why, " ")})
	}
	b.add(report.Heading{Level: 2, Text: "Why", ID: "why"}, t)
}

// sureness is what is sure of each field, and what is not.
func (b *book) sureness() {
	t := report.Table{Caption: "How sure", Columns: []report.Column{{Head: "Place", Share: 0.08, Number: true}, {Head: "Field", Share: 0.2}, {Head: "Enough is suited", Share: 0.24},
		{Head: "May prove worse", Share: 0.12, Number: true}, {Head: "Survey unsure of", Share: 0.12, Number: true}, {Head: "Hangs on pH", Share: 0.12, Number: true}, {Head: "Not known", Share: 0.12, Number: true}},
		Note: "May prove worse: of the ground called suited. Survey unsure of, hangs on pH: of the rated ground. Not known: of the field, outside the survey or without data." + b.more()}
	for k := range b.listed() {
		f := b.r.Fields[k].Field
		x := &f.Facts
		enough := Sure(f)
		if p, ok := f.Measures[ranking.Sure].Value().Get(); ok {
			enough += " (" + words.ChanceFigure(p, x.ChanceOff) + ")"
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(b.r.Fields[k].Rank), b.c.FieldName(f), enough, risk(f), percent(x.LowConfidence), percent(x.Hinges), percent(x.Unknown)})
	}
	b.add(report.Heading{Level: 2, Text: "How sure", ID: "sure"}, report.Para{Text: "Chances are of the ground as the survey or your tests describe it. The survey is unsure where soils are mixed, small, coarsely mapped or at odds with each other; such ground is worth a look whatever its chance."}, t)
}

// beaten lists the fields that others beat on every count.
func (b *book) beaten() {
	t := report.Table{Caption: "Beaten fields", Columns: []report.Column{{Head: "Place", Share: 0.1, Number: true}, {Head: "Field", Share: 0.35}, {Head: "Beaten by", Share: 0.55}},
		Note: "Three at most are named, the best first. What is missing is never held against a field here." + b.more()}
	n, beaten := 0, 0
	for k := range b.r.Fields {
		f := &b.r.Fields[k]
		// The first layer are those that nobody beats.
		if f.Layer == 1 {
			n++
			continue
		}
		// All are counted, some are listed.
		if beaten++; beaten > mostListed {
			continue
		}
		var by []string
		for _, other := range f.BeatenBy {
			by = append(by, b.c.FieldName(b.r.Fields[other].Field))
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(f.Rank), b.c.FieldName(f.Field), words.Listed(by)})
	}
	s := fmt.Sprintf("A field is beaten when another is at least as good on every count that has a weight, and better on one. No weights can put it first. %s of %s are not beaten.",
		words.Decimal(float64(n), 0), count(len(b.r.Fields)))
	b.add(report.Heading{Level: 2, Text: "Beaten on every count", ID: "beaten"}, report.Para{Text: s})
	if len(t.Rows) > 0 {
		b.add(t)
	}
}

// unanswered lists the fields of which nothing is known.
func (b *book) unanswered() {
	if len(b.r.Unanswered) == 0 {
		return
	}
	var items []string
	for i, f := range b.r.Unanswered {
		if i == mostListed {
			items = append(items, fmt.Sprintf("%s more are in rank.csv.", count(len(b.r.Unanswered)-i)))
			break
		}
		items = append(items, b.c.FieldName(f)+": "+noAnswer(f))
	}
	b.add(report.Heading{Level: 2, Text: "Fields without an answer", ID: "unanswered"}, report.Para{Text: "They have no place: nothing is known to rank them by. Visit them first."}, report.Bullets{Items: items})
}
