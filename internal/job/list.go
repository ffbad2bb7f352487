package job

import (
	"rootworthy/soils"
	"rootworthy/suitability"
)

// RatedUnit is a map unit with its rating, before any boundary is drawn.
type RatedUnit struct {
	Unit   *soils.MapUnit
	Rating suitability.UnitRating
}

// Units rates every map unit of a survey, by key.
func Units(s *soils.Survey, p *suitability.Profile) []RatedUnit {
	u := newUnits(s, p, p.DefaultTarget())
	out := make([]RatedUnit, len(s.Units))
	for i := range s.Units {
		// Undrained: drains belong to fields, and no field is known here.
		out[i] = RatedUnit{&s.Units[i], u.rating(uint32(i), false, suitability.Terrain{})}
	}
	return out
}
