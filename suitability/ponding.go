package suitability

import "rootworthy/soils"

// findPonding judges the highest ponding class of any month: water that stands in closed depressions.
func findPonding(p *Profile, e *evidence) Finding {
	class, _ := e.Ponding()
	f := p.Ponding.finding(class.String())
	if class == soils.Common {
		f.Note = NoteObsolete
	}
	return f
}
