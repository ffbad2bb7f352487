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
type rounded struct {
	field, outside orb.MultiPolygon
	zones          []orb.MultiPolygon // by piece, in zone order
}

// round sorts the pieces into zone order and brings all shapes of a cut onto the writing grid together: rounded one by
// one, lines could cross and neighbours lose their shared edges.
func (s *screening) round(c overlay.Cut) rounded {
	slices.SortStableFunc(c.Pieces, s.units.byAreaThenKey)
	layers := []orb.MultiPolygon{s.fields[c.Field].Shape, s.plane.InverseMultiPolygon(c.Gaps)}
	for _, p := range c.Pieces {
		layers = append(layers, s.plane.InverseMultiPolygon(p.Shape))
	}
	out, _ := arrange.CoverRounded(layers, writeStep)
	return rounded{out[0], out[1], out[2:]}
}

// zones numbers, rates and plans the zones of a field. Pieces are in zone order already.
func (s *screening) zones(in field.Field, c overlay.Cut, ground rounded) []suitability.Zone {
	out := make([]suitability.Zone, len(c.Pieces))
	for i, p := range c.Pieces {
		m := s.units.list[p.Key]
		z := suitability.Zone{ID: fmt.Sprintf("%s/%d", in.ID, i+1), FieldID: in.ID, FieldName: in.Name, Number: i + 1,
			Shape: ground.zones[i], Area: unit.Area(p.Area), Pieces: len(ground.zones[i]),
			SurveyArea: m.Area, MapUnitKey: m.Key, Symbol: m.Symbol, MapUnit: m.Name}
		z.Rating = s.opt.Profile.ForZone(s.units.rating(p.Key, in.Drained), z.Area, s.units.areas[m.Area].Scale)
		z.Lime = limeplan.Plan(s.opt.Profile, z.Rating, z.Area, s.opt.Lime)
		out[i] = z
	}
	return out
}
