package words

import (
	"rootworthy/export"
	"rootworthy/suitability"
)

// Sentences returns the words for the files of a run: reasons for the landowner, since everybody reads those, lime for
// the technician, who reads the lime list. The profile may be nil.
func Sentences(p *suitability.Profile) export.Sentences {
	return export.Sentences{
		Reason:   func(z *suitability.Zone) string { return Reason(z, Landowner) },
		Lime:     func(z *suitability.Zone) string { return Lime(z, Technician, p) },
		Method:   Method,
		Cautions: Cautions(),
		Budget:   budgetCaution,
	}
}
