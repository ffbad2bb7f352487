package field

import (
	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
)

// CheckAgainst tells of fields that would lie in the survey only with latitude and longitude exchanged. Where both
// are possible degrees, as 34, -82 is, nothing but the survey shows it.
func CheckAgainst(survey orb.Bound, fields []Field, faults *diag.List) {
	for i := range fields {
		f := &fields[i]
		// A fault and no repair: were it turned silently, a survey of the wrong county could pull fields to the other side of
		// the globe.
		if b, ok := boundOf(f.Shape); ok && proj.LooksSwapped(b, survey) {
			faults.Add(f.fault("latitude and longitude", "it would lie in the survey only if its latitude and longitude were exchanged", "export it again with longitude first"))
		}
	}
}
