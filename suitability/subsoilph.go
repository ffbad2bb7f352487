package suitability

// findSubsoilPH judges the mean pH in water below the reach of surface lime. It does not apply where a hard restriction
// lies at the top of its window or above: there is no such subsoil.
func findSubsoilPH(p *Profile, e *evidence) Finding {
	from := p.Rules.SubsoilFrom
	// a soft layer is no reason: roots get through it in part, and it cuts no window
	if e.isHard && float64(e.hard.Top.Or(0)) <= from.Value {
		return Finding{Unit: p.SubsoilPH.Unit, NotApplicable: true, Note: NoteAboveWindow}
	}
	return phFinding(p.SubsoilPH, e, e.window(from, p.Rules.SubsoilTo))
}
