package choice

import (
	"fmt"
	"strings"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/suitability/ranking"
)

// Line is a field in the words of the list, for a page that shows the list in its own way.
type Line struct {
	Place  string // "2"
	Places string // where it stands in 8 draws of 10: "1 to 4"
	Field  string
	Advice string // "Take", "Visit first" or "Leave"
	Suited string // acres once limed, with nine cases of ten
	Cost   string // of a suited acre, in what [Choice.CostHead] says
	Ready  string
	Sure   string
	Risk   string
	Score  string   // of 100
	Marks  []string // of 100, by criterion
	Beaten string   // by which fields on every count; "" by none
	Why    string   // in sentences
}

// Line returns the field in place k from 0.
func (c *Choice) Line(k int) Line {
	f := &c.Ranking.Fields[k]
	l := Line{Place: fmt.Sprint(f.Rank), Places: span(f.P10, f.P90) + bounds(f), Field: c.FieldName(f.Field), Advice: advice(f.Verdict), Suited: suited(f.Field), Cost: c.cost(f.Field),
		Ready: c.ready(f.Field), Sure: Sure(f.Field), Risk: risk(f.Field), Score: score(f.Score)}
	for _, m := range f.Marks {
		l.Marks = append(l.Marks, score(m))
	}
	// The sentences are those of the letter, so that list and letter cannot say different things.
	var by, why []string
	for _, other := range f.BeatenBy {
		by = append(by, c.FieldName(c.Ranking.Fields[other].Field))
	}
	for _, w := range f.Why {
		why = append(why, because(f.Field, w))
	}
	l.Beaten, l.Why = words.Listed(by), strings.Join(why, " ")
	return l
}

// CostHead says what the cost of a suited acre is counted in, as the head of a column.
func (c *Choice) CostHead() string {
	if c.Basis == ranking.ByMoney {
		return "Cost of a suited acre, " + words.Shown(c.Currency, 12)
	}
	return "Lime, tons a suited acre"
}

// ReadyHead says what readiness is counted in, as the head of a column.
func (c *Choice) ReadyHead() string {
	if c.Start == ranking.ByWait {
		return "Wait after lime"
	}
	return "Can be sown from"
}

// Meaning explains the columns that do not explain themselves.
func (c *Choice) Meaning() string { return (&book{c: c, r: c.Ranking}).meaning() }

// Firmness says how much of the order moves, and by what.
func (c *Choice) Firmness() string { return (&book{c: c, r: c.Ranking}).swaps() }

// NoAnswer says why a field has no place.
func (c *Choice) NoAnswer(f *ranking.Field) string { return c.FieldName(f) + ": " + noAnswer(f) }

// LetterOf is the letter of a field by its run and id; nil where there is no such field.
func (c *Choice) LetterOf(run, id string) *report.Document {
	for k := range c.Fields() {
		if f := c.letterAt(k).f; f.Run == run && f.ID == id {
			return c.Letter(k)
		}
	}
	return nil
}

// CountName names a criterion in plain words.
func (c *Choice) CountName(x ranking.Criterion) string { return c.countName(x) }
