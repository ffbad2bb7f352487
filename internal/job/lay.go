package job

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/geo/overlay"
)

// lay brings the survey's polygons that can meet a field into the plane. A polygon whose box misses the box around
// all fields is left out: it can change nothing, and a county is mostly such polygons.
func (s *screening) lay(ctx context.Context, survey Survey) error {
	s.ground = overlay.New()
	around := boundOf(s.fields).Pad(0.001) // degrees; densified edges bulge out of their box by centimetres at most
	n := 0
	var extent orb.Bound
	err := survey.Polygons(ctx, func(area, key string, shape orb.MultiPolygon) error {
		// Not on every polygon: a state has hundreds of thousands of them, and both the report and the context cost something.
		if n++; n%256 == 0 {
			s.opt.Progress("reading the survey", n, 0)
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
		}
		box := shape.Bound()
		// a box of nothing would hold 0, 0 as well
		if n == 1 {
			extent = box
		}
		extent = extent.Union(box)
		if !box.Intersects(around) {
			return nil
		}
		// only units that can meet a field get numbers behind those of the tables
		number := s.units.of(survey, area, key)
		flat, err := s.plane.ForwardMultiPolygon(shape, true)
		if err == nil {
			// Made valid on the way in, where it must be; what was repaired is told below.
			err = s.ground.Take(number, flat)
		}
		if err != nil {
			// One bad polygon leaves a gap in the map, which shows as ground outside the survey; it must not cost the whole run.
			s.faults.Add(diag.Fault{Kind: "survey polygon", Feature: fmt.Sprintf("polygon %d, map unit %s", n, key), What: err.Error(), Fix: "get the survey again; the polygon was left out"})
			return nil
		}
		// Only of polygons that were taken.
		s.keys = append(s.keys, number)
		return nil
	})
	// with the extent of all polygons, near or not: it tells fields of another county from fields with swapped
	// coordinates
	if n > 0 {
		field.CheckAgainst(extent, s.fields, s.faults)
	}
	for _, r := range s.ground.Repairs() {
		s.tellRepair(r)
	}
	return err
}

// tellRepair says which survey polygon was not valid and by how much its area moved.
func (s *screening) tellRepair(r overlay.Repair) {
	// Repairs are counted by polygons taken, which is the order of keys.
	m := s.units.list[s.keys[r.Number]]
	// The place is for finding the polygon on a map; five decimals are about a metre.
	at, _ := s.plane.Inverse(r.At)
	s.faults.Notice(diag.Fault{Feature: "survey map unit " + m.Key, Kind: "survey polygon repaired",
		What: fmt.Sprintf("a polygon of %s was not valid near %.5f, %.5f and was made valid; its area moved by %.2f m²", m.Symbol, at[0], at[1], r.After-r.Before)})
}
