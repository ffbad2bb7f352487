package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// RateOptions tunes [Profile.RateUnit]; the zero value rates natural ground of a survey of unknown scale.
type RateOptions struct {
	Drained bool          // the user declares drainage works on the field
	Scale   unit.Opt[int] // denominator of the survey's scale; missing when not recorded
	General bool          // the 1:250,000 general soil map
	Target  Target        // surface pH to lime to; the zero value means the profile's default
}

// RateUnit rates a map unit: every component on its own, then the unit by the class that holds the largest percent.
// The result depends on the content of u alone, not on the order of its components.
func (p *Profile) RateUnit(u soils.MapUnit, opt RateOptions) UnitRating { return UnitRating{} }

// ForZone returns the rating for a zone of the given area: confidence is low where the zone is smaller than the
// smallest area that the survey draws at its scale (a denominator; missing changes nothing). r is not changed; what
// it points to is shared.
func (p *Profile) ForZone(r UnitRating, area unit.Area, scale unit.Opt[int]) UnitRating { return r }
