package web

import (
	"html/template"

	"rootworthy/export/report"
	"rootworthy/export/words"
)

// planPart is a part of a plan that folds. A plan of a farm is some thirty screens of a phone long: what to do and to buy lies open, and so do
// the names of the steps and what may hurt somebody; the rest is one touch away, found by the browser's search, and open on paper.
type planPart struct {
	ID, Title, Say string
	HTML           template.HTML // written by package report, every text in it escaped
	Open           bool
	Parts          []planPart
}

// openParts are the parts that lie open, by their ids: the work in its order, what to buy, the list of steps, and the cautions, which must not
// have to be looked for. A part that a later plan brings is folded.
func openParts(id string) bool {
	switch id {
	case "order", "buy", "steps", "cautions":
		return true
	}
	return false
}

// planParts sets out the sections of a plan.
func planParts(sections []report.Section) []planPart {
	var out []planPart
	for _, s := range sections {
		p := planPart{ID: s.ID, Title: s.Title, HTML: template.HTML(s.HTML), Open: openParts(s.ID), Parts: planParts(s.Parts)}
		if n := len(p.Parts); n > 0 && s.ID == "steps" {
			p.Say = words.Count(n, "step", "steps")
		}
		out = append(out, p)
	}
	return out
}
