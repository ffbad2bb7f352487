package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// findSodicity judges the mean sodium adsorption ratio.
func findSodicity(p *Profile, e *evidence) Finding {
	mean, covered, note := meanOf(e, e.window(Figure{}, p.Rules.SaltsTo), func(h *soils.Horizon) unit.Opt[float64] { return h.SAR })
	f := p.Sodicity.finding(mean)
	f.Covered, f.Note = cover(covered), note
	return f
}
