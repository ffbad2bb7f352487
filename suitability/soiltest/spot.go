package soiltest

import (
	"time"

	"rootworthy/soils"
	"rootworthy/soils/lab"
	"rootworthy/suitability"
)

// Together returns what samples show of the pH of a window of depth, taken as of one place; nil where they show nothing
// of it. Those that were dug elsewhere than in the window count for nothing.
func Together(samples []*lab.Sample, w soils.Window, today time.Time) *suitability.TestedPH {
	var voices []Voice
	for i, s := range samples {
		if Bears(s, w) {
			voices = append(voices, Voice{Index: i, Sample: s, Basis: lab.ByPoint})
		}
	}
	t, _ := read(voices, w, today)
	return t
}
