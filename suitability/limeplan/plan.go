package limeplan

import (
	"time"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Options tunes [Plan]. The zero value means pure dry lime and the profile's rules, with no dates.
type Options struct {
	ECCE            unit.Percent              // effective calcium carbonate equivalent of the product; 0 means 100
	Moisture        unit.Percent              // water in the product as spread, percent of its wet mass
	Cap             unit.AreaRate             // most product as spread on sod in a year; 0 means the profile's
	Months          int                       // to wait after the last pass; 0 means the profile's
	Step            unit.AreaRate             // the spreader is set in such steps; 0 means the profile's
	Date            time.Time                 // today, midnight UTC; the zero time means no dates are worked out
	Window          *suitability.SowingWindow // of the region; nil means no window is worked out
	IncludeUnsuited bool                      // lime unsuited ground too
}

// Check says what in the options is out of range, and what is allowed.
func (o Options) Check(p *suitability.Profile) error { return nil }

// Plan returns the lime of a zone of the given area. The target is that of the rating ([suitability.UnitRating].Target).
func Plan(p *suitability.Profile, r suitability.UnitRating, area unit.Area, o Options) suitability.Lime {
	return suitability.Lime{}
}
