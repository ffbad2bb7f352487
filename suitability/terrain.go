package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// Terrain is what an elevation raster shows of one zone. The zero value says nothing.
type Terrain struct {
	Slope        unit.Opt[float64] `json:"slope_pct"`     // mean over the zone; missing where heights cover too little of it
	Covered      unit.Percent      `json:"covered_pct"`   // share of the zone with heights
	Wetness      unit.Opt[float64] `json:"wetness"`       // topographic wetness index, mean; a witness, not rated
	WettestTenth unit.Opt[float64] `json:"wettest_tenth"` // the index that a tenth of the zone exceeds
	Below        unit.Opt[float64] `json:"below_m"`       // metres below the ground around, mean: where cold air gathers; a witness, not rated
}

// Any says whether a raster was looked at.
func (t Terrain) Any() bool { return t != Terrain{} }

// replaceSlope puts the measured slope in the place of the survey's.
func (t Terrain) replaceSlope(e *evidence) {
	if t.Slope.Has() {
		// without low and high: the survey's range is of the survey's slope
		e.Slope = soils.Range[float64]{Value: t.Slope}
	}
}

// besideElevation marks the slope that was measured and puts what the survey says of it, and its class, beside it.
func (p *Profile) besideElevation(findings []Finding, c soils.Component, t Terrain) {
	for i := range findings {
		if f := &findings[i]; f.Criterion == Slope && t.Slope.Has() {
			// from the component as the survey has it: the evidence holds the measured slope by now
			survey := p.Slope.finding(c.Slope.Value)
			f.Elevation, f.Survey, f.SurveyClass = true, survey.Value, survey.Class
		}
	}
}
