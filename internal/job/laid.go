package job

import (
	"context"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/geo/overlay"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils"
	"rootworthy/suitability"
)

// Laid is a survey whose map stands ready in a plane and whose map units are read one at a time, as a survey pack has
// it: a state opens as fast as a county.
type Laid interface {
	// Survey returns areas and map units, sorted by key; components may be missing.
	Survey() *soils.Survey
	// Unit reads a map unit with its components. It may be called by several goroutines.
	Unit(key string) (soils.MapUnit, error)
	// Ground returns the map in Plane; its keys are indexes into Survey().Units.
	Ground() *overlay.Coverage
	Plane() proj.Plane
	// Extent is the box around the map in degrees.
	Extent() orb.Bound
}

// ScreenLaid is [Screen] on a survey whose map is laid already.
func ScreenLaid(ctx context.Context, fields []field.Field, survey Laid, opt Options, faults *diag.List) (*suitability.Result, error) {
	s := begin(fields, survey.Survey(), opt, faults)
	// Only the map units that meet a field are ever read, by the first rating that asks for one.
	s.units.read = survey.Unit
	// The plane is that of the pack and not of the fields: the map was projected when the pack was made. Areas then differ
	// from those of Screen by what the two planes distort.
	s.plane, s.ground = survey.Plane(), survey.Ground()
	field.CheckAgainst(survey.Extent(), fields, faults)
	return s.run(ctx)
}
