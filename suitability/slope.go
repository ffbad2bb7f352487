package suitability

// findSlope judges the slope. It limits machines and invites erosion; the stand itself does not mind.
func findSlope(p *Profile, e *evidence) Finding {
	f := p.Slope.finding(e.Slope.Value)
	f.span(e.Slope.Low, e.Slope.High)
	if f.Class > Suited {
		f.Note = NoteMachines
	}
	return f
}
