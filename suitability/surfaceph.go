package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// findSurfacePH judges the mean pH in water of the top of the mineral soil.
func findSurfacePH(p *Profile, e *evidence) Finding {
	f := phFinding(p.SurfacePH, e, e.window(Figure{}, p.Rules.SurfaceTo))
	p.noteMicronutrients(&f)
	return f
}

// noteMicronutrients marks a pH above the usual range; a note alone, since alfalfa is grown on such ground.
func (p *Profile) noteMicronutrients(f *Finding) {
	if f.Value.Or(0) > p.Rules.Micronutrients.Value {
		f.Note = NoteMicronutrients
	}
}

// phFinding judges the mean pH of a window. A value in calcium chloride is not turned into one in water: where the
// survey has nothing else, the finding says so.
func phFinding(c Curve, e *evidence, w soils.Window) Finding {
	mean, covered, note := meanOf(e, w, e.ph)
	f := c.finding(mean)
	f.Covered, f.Note = cover(covered), note
	if !mean.Has() {
		_, other := soils.WindowMean(e.Horizons, w, func(h *soils.Horizon) unit.Opt[unit.PHCaCl2] { return h.PHCaCl2.Value })
		// more depth with pH in calcium chloride than with pH in water: the reason is the method, not a gap in the description
		if other > covered {
			f.Note = NoteCaCl2
		}
	}
	return f
}

// cover is a covered depth as findings keep it; 0 cm is a statement too.
func cover(cm unit.Depth) unit.Opt[float64] { return unit.Some(float64(cm)) }

// correctable says whether surface acidity lies where lime corrects it.
func (p *Profile) correctable(f Finding) bool {
	v, ok := f.Value.Get()
	// the upper end lies above the suited limit: up to there acidity may still lower the score, and lime mends it
	return ok && f.Criterion == SurfacePH && v >= p.Rules.LimeCorrectsFrom.Value && v <= p.Rules.LimeCorrectsTo.Value
}
