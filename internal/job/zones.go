package job

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/field"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/overlay"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// writeStep is the grid of every coordinate that leaves the program: 7 decimals of a degree, about a centimetre.
const writeStep = 1e-7

// rounded is the ground of one field in degrees on the writing grid. Zones, the outside and the field share every
// point of a shared line.
// field is the boundary, outside what of it no survey polygon covers.
type rounded struct {
	field, outside orb.MultiPolygon
	zones          []orb.MultiPolygon // by piece, in zone order
}

// round sorts the pieces into zone order and brings all shapes of a cut onto the writing grid together: rounded one by
// one, lines could cross and neighbours lose their shared edges.
func (s *screening) round(c overlay.Cut) (rounded, error) {
	slices.SortStableFunc(c.Pieces, s.units.byAreaThenKey)
	// the boundary and what the survey leaves out share lines with the zones, and are rounded with them
	shapes := []orb.MultiPolygon{c.Boundary, c.Gaps}
	for _, p := range c.Pieces {
		shapes = append(shapes, p.Shape)
	}
	for i := range shapes {
		var err error
		if shapes[i], err = s.plane.InverseMultiPolygon(shapes[i]); err != nil {
			return rounded{}, fmt.Errorf("field %s: %w", s.fields[c.Field].ID, err)
		}
	}
	out, ok := arrange.CoverRounded(shapes, writeStep)
	if !ok {
		return rounded{}, fmt.Errorf("field %s: a coordinate is not finite", s.fields[c.Field].ID)
	}
	return rounded{out[0], out[1], out[2:]}, nil
}

// zones numbers, rates and plans the zones of a field. Pieces are in zone order already.
func (s *screening) zones(in field.Field, c overlay.Cut, ground rounded, relief []suitability.Terrain) []suitability.Zone {
	out := make([]suitability.Zone, len(c.Pieces))
	for i, p := range c.Pieces {
		// by the survey first; tests change zones afterwards, when all of them have their numbers
		m := s.units.list[p.Key]
		// Area is that of the plane before rounding: a centimetre's grid moves it by less than is printed, and sums stay exact.
		z := suitability.Zone{ID: fmt.Sprintf("%s/%d", in.ID, i+1), FieldID: in.ID, FieldName: in.Name, Number: i + 1,
			Shape: ground.zones[i], Area: unit.Area(p.Area), Pieces: len(ground.zones[i]),
			SurveyArea: m.Area, MapUnitKey: m.Key, Symbol: m.Symbol, MapUnit: m.Name}
		z.Rating = s.opt.Profile.ForZone(s.units.rating(p.Key, in.Drained, relief[i]), z.Area, s.units.areas[m.Area].Scale)
		z.Lime = limeplan.Plan(s.opt.Profile, z.Rating, z.Area, s.opt.Lime)
		out[i] = z
	}
	return out
}
