package job

import (
	"fmt"

	"rootworthy/internal/diag"
)

// tellSouthern says that the year of the rules is the northern one: water in the ground is judged by the spring of the profile's months, and
// sowing windows are those of the regions it names. South of the equator both lie half a year off, and nothing in a file would show it.
func (s *screening) tellSouthern() {
	n, first := 0, ""
	for i := range s.fields {
		f := &s.fields[i]
		if len(f.Shape) == 0 || f.Shape.Bound().Center().Lat() >= 0 {
			continue
		}
		if n++; n == 1 {
			first = f.ID
		}
	}
	if n == 0 {
		return
	}
	lie := "field " + first + " lies"
	if n > 1 {
		lie = fmt.Sprintf("%d fields (first %s) lie", n, first)
	}
	s.faults.Notice(diag.Fault{Kind: "southern year",
		What: lie + " south of the equator; seasons here are the northern ones: water in the ground is judged in the northern spring, and sowing windows and all dates of a plan are northern",
		Fix:  "take classes, pH and amounts of lime from here, and no dates"})
}
