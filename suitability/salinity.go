package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// findSalinity judges the mean electrical conductivity of the saturation extract.
func findSalinity(p *Profile, e *evidence) Finding {
	// cut at the hard restriction like every window: salt below what roots reach harms nobody
	mean, covered, note := meanOf(e, e.window(Figure{}, p.Rules.SaltsTo), func(h *soils.Horizon) unit.Opt[unit.Conductivity] { return h.EC })
	f := p.Salinity.finding(mean)
	f.Covered, f.Note = cover(covered), note
	return f
}
