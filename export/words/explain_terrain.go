package words

import (
	"fmt"

	"rootworthy/suitability"
)

// slopeBeside says what the survey says of a slope that was measured.
func slopeBeside(f *suitability.Finding) string {
	if x, ok := f.Survey.Get(); ok {
		return "; the survey says " + plain(x, 1) + " %"
	}
	return "; the survey says nothing of it"
}

// terrain prints what the elevation raster shows of the zone: which slope counts, and two witnesses that change no class.
// Nothing is printed for a run without an elevation raster.
func (e *explanation) terrain() {
	t := &e.r.Terrain
	if !t.Any() {
		return
	}
	e.heading("Shape of the ground, by the elevation raster")
	if x, ok := t.Slope.Get(); ok {
		e.para("Slope %s %%, the mean over %s of the zone. It counts in place of the survey's.", plain(x, 1), share(t.Covered))
	} else {
		e.para("Heights for %s of the zone only, too few: the survey's slope counts.", share(t.Covered))
	}
	if x, ok := t.Wetness.Get(); ok {
		e.para("Topographic wetness index %s on average, %s in its wettest tenth. A witness, not rated: of two zones the one with more gathers more water.", plain(x, 1), plain(t.WettestTenth.Or(x), 1))
	}
	if x, ok := t.Below.Get(); ok {
		e.para("%s", coldAir(x))
	}
}

// coldAir says how far a zone lies below its surroundings. A metre is about what decides a frost pocket on the scale of a
// field; common practice, no source.
func coldAir(below float64) string {
	s := fmt.Sprintf("It lies %s m below the ground around it on average", plain(below, 1))
	if below >= 1 {
		return s + ": cold air may gather here on still nights. A witness, not rated."
	}
	return s + ": no sign that cold air gathers. A witness, not rated."
}
