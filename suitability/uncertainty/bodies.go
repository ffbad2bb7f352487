package uncertainty

import (
	"math"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// usualScale is taken where a survey does not say its own: that of most of the detailed soil survey.
// Source: common practice, no source.
const usualScale = 24000

// bodiesOf returns how many bodies of soil a zone is taken to hold. What is as large as the smallest area of the map would
// have been drawn by itself, so a foreign soil in a zone is no larger. Numbers are thinned out as they grow, so that
// zones of like size share one ground.
func bodiesOf(p *suitability.Profile, area unit.Area, scale unit.Opt[int]) int {
	n := float64(area) / float64(p.SmallestZone(scale.Or(usualScale)))
	// a zone smaller than the map could show is one body: all one soil or all another
	if !(n > 1) {
		return 1
	}
	i := math.Round(2 * math.Log2(n)) // 1, 1.4, 2, 2.8, 4 …
	return min(int(math.Round(math.Exp2(i/2))), mostBods)
}
