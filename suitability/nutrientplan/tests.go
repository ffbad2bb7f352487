package nutrientplan

import (
	"time"

	"rootworthy/soils/lab"
	"rootworthy/suitability"
	"rootworthy/suitability/soiltest"
)

// Hear fills in the tests of a zone: the samples that speak for its topsoil, with what their laboratory printed. today is the day from which
// their age counts; the zero time means that it is not known. The report may be nil.
func (z *Zone) Hear(voices []soiltest.Voice, report *Report, today time.Time) {
	// age and reach do not lower the rate; they are noted beside it
	for _, v := range voices {
		z.Tests = append(z.Tests, report.Of(v.Sample))
		z.Old = z.Old || soiltest.Age(v.Sample, today) == suitability.AgeOld
		z.Wide = z.Wide || v.Basis == lab.ByField || v.Basis == lab.ByMapUnit
	}
}
