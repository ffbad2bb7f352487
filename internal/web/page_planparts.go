package web

import (
	"html/template"

	"rootworthy/export/report"
	"rootworthy/export/words"
)

// planPart is a part of a plan that folds, open or not as in the file of the plan: one touch away, found by the browser's search, and open on
// paper.
type planPart struct {
	ID, Title, Say string
	HTML           template.HTML // written by package report, every text in it escaped
	Open           bool
	Parts          []planPart
}

// planParts sets out the sections of a plan.
func planParts(sections []report.Section) []planPart {
	var out []planPart
	for _, s := range sections {
		p := planPart{ID: s.ID, Title: s.Title, HTML: template.HTML(s.HTML), Open: s.Open, Say: s.Say, Parts: planParts(s.Parts)}
		if n := len(p.Parts); n > 0 && s.ID == "steps" {
			p.Say = words.Count(n, "step", "steps")
		}
		out = append(out, p)
	}
	return out
}
