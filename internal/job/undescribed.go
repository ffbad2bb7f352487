package job

import (
	"fmt"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// tellUndescribed says how much ground has a map unit that is in none of the tables: mostly, map and tables are of different years, or one
// of two surveys came without tables. Where there are no tables at all, whoever opened the survey has said so.
func (s *screening) tellUndescribed() {
	described := false
	for _, u := range s.survey.Units {
		described = described || !u.Undescribed
	}
	if !described {
		return
	}
	var ground unit.Area
	first := "" // by field and zone, so that it is the same whatever the workers did
	units := map[string]bool{}
	for i := range s.done {
		for _, z := range s.done[i].zones {
			if z.Rating.WhyNotRated != suitability.WhyNoTable {
				continue
			}
			if len(units) == 0 {
				first = z.MapUnitKey
			}
			units[z.MapUnitKey] = true
			ground += z.Area
		}
	}
	if len(units) == 0 {
		return
	}
	of := "a map unit (key " + first + ") that is"
	if len(units) > 1 {
		of = fmt.Sprintf("%d map units (such as key %s) that are", len(units), first)
	}
	s.faults.Notice(diag.Fault{Kind: "units without tables", What: fmt.Sprintf("%.1f ac (%.1f ha) of the fields have %s in none of the tables; this ground is measured, and not rated", ground.Acres(), ground.Hectares(), of),
		Fix: "give its tables too, or map and tables of one edition"})
}
