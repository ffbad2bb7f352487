package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// findWaterTable judges the top of the shallowest layer with free water from November to June, when the stand is sown
// and grows most. Months that are described without a wet layer are as good as any depth; no months are no answer.
// Declared drainage works lift it as they lift the drainage class, where that class can be drained.
func findWaterTable(p *Profile, e *evidence) Finding {
	wet, known := e.WetRange(soils.NovemberToJune)
	if d, ok := wet.Value.Get(); ok {
		f := p.WaterTable.finding(unit.Some(float64(d)))
		f.span(plain(wet.Low), plain(wet.High))
		// a class that is not recorded is below every class and so is never lifted
		if e.drained && e.Drainage > soils.VeryPoorlyDrained {
			f.lift(p.Rules.DeclaredScore.Value)
			p.WaterTable.attach(&f, markAbove(f.Class))
		}
		return f
	}
	f := Finding{Unit: p.WaterTable.Unit}
	if known {
		last := p.WaterTable.Points[len(p.WaterTable.Points)-1]
		// any depth past the end of the curve scores the same; no depth was seen, so none is kept
		f = p.WaterTable.finding(unit.Some(last.Value))
		f.Value, f.Note = unit.None[float64](), NoteNoneDescribed
	}
	return f
}
