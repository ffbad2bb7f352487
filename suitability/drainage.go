package suitability

import (
	"slices"

	"rootworthy/soils"
)

// findDrainage judges the natural drainage class. Works that the user declares lift somewhat poorly and poorly drained
// ground to marginal at best; hydrologic groups with two letters prove nothing and are not looked at.
func findDrainage(p *Profile, e *evidence) Finding {
	f := p.Drainage.finding(e.Drainage.String())
	if e.drained && drainable(e.Drainage) {
		f.lift(p.Rules.DeclaredScore.Value)
		p.Drainage.attach(&f)
	}
	return f
}

// drainable says whether works may make the ground fit: not where water stands most of the season.
func drainable(c soils.DrainageClass) bool {
	// in the two wetter classes water stands most of the season; a class that is not recorded is not known to be drainable
	return c == soils.PoorlyDrained || c == soils.SomewhatPoorlyDrained
}

// lift raises an unsuited finding to a score, as declared.
func (f *Finding) lift(score float64) {
	// what is marginal already is not changed: declared works are believed, not measured
	if f.Class == Unsuited {
		f.rate(score)
		f.Note = NoteDeclared
	}
}

// weighWitnesses notes where the drainage class and the wet layer tell stories two classes apart. The worse counts by
// the law of the minimum; the note lowers confidence. Declared works make both beside the point.
func weighWitnesses(findings []Finding, e *evidence) {
	a, b := &findings[slices.Index(Codes(), Drainage)], &findings[slices.Index(Codes(), WaterTable)]
	// two classes apart: one apart is what two honest descriptions of one soil may differ by
	apart := a.Class == Suited && b.Class == Unsuited || a.Class == Unsuited && b.Class == Suited
	if !e.drained && apart {
		a.Note, b.Note = NoteWitnesses, NoteWitnesses
	}
}
