package job

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/overlay"
	"rootworthy/raster/interp"
	"rootworthy/raster/managementzone"
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/soiltest"
)

// Split asks for zones to be split further, along a surface through the field's points.
type Split struct {
	Most  int         // management zones of a field at most
	Width unit.Length // that a spreader can follow; 0 means three cells of the surface
}

// checkSplit refuses samples that name zones: a split numbers the zones anew, and they would speak for other ground.
func (s *screening) checkSplit() error {
	t := s.opt.Tests
	if t == nil || t.Split == nil {
		return nil
	}
	for i := range t.Samples {
		if x := &t.Samples[i]; x.Place.Zone != "" {
			return fmt.Errorf("%s:%d: the sample names zone %s, and a split numbers zones anew; place samples by lon and lat, or do not split", x.File, x.Line, x.Place.Zone)
		}
	}
	return nil
}

// split cuts the pieces of a field along management zones of the tested topsoil pH. Parts of a piece that are smaller than
// four squares of the spreader's width stay with the largest. Without a surface worth its name nothing is cut, and that is
// told.
func (s *screening) split(ctx context.Context, c *overlay.Cut) error {
	t := s.opt.Tests
	if t == nil || t.Split == nil || t.Surface == nil || len(c.Boundary) == 0 {
		return nil
	}
	points := s.topsoilPoints(c.Boundary)
	if len(points) == 0 {
		return nil
	}
	told := func(what, fix string) {
		s.faults.Notice(diag.Fault{Feature: "field " + s.fields[c.Field].ID, Field: "surface pH", Kind: "split", What: what, Fix: fix})
	}
	surface, err := interp.Interpolate(ctx, frameOver(c.Boundary, float64(t.Split.Width)/3), points,
		interp.Options{Method: *t.Surface, Few: interp.Mean, Inside: c.Boundary, Workers: s.opt.Workers})
	if err != nil {
		return fmt.Errorf("field %s: %w", s.fields[c.Field].ID, err)
	}
	if why := worthless(surface); why != "" {
		told("not split by tested pH: "+why, "sample more densely")
		return nil
	}
	width := math.Max(float64(t.Split.Width), 3*surface.Values.Frame().DX)
	m, err := managementzone.Divide(ctx, surface.Values, managementzone.Options{Most: t.Split.Most, Width: width})
	if err != nil {
		return err
	}
	if len(m.Zones) < 2 {
		told("not split by tested pH: no two zones of that width differ enough", "")
		return nil
	}
	shapes, err := m.Shapes(ctx)
	if err != nil {
		return err
	}
	var layers [][]arrange.Polygon
	for _, z := range shapes {
		if parts, ok := arrange.FromOrb(z.Shape, geo.PlaneStep); ok {
			layers = append(layers, parts)
		}
	}
	var pieces []overlay.Piece
	for _, p := range c.Pieces {
		pieces = append(pieces, splitPiece(p, layers, 4*width*width)...)
	}
	what := fmt.Sprintf("split by tested pH into %d zones of at least %.0f m, which hold %.0f percent of its variance; means", len(m.Zones), width, 100*m.Explained)
	for _, z := range m.Zones {
		what += fmt.Sprintf(" %.2f", z.Mean)
	}
	c.Pieces = pieces
	told(what, "")
	return nil
}

// topsoilPoints returns the pH of the topsoil at the sampled spots inside a field.
func (s *screening) topsoilPoints(field orb.MultiPolygon) []interp.Sample {
	top, _ := soiltest.Windows(s.opt.Profile)
	var spots []spot
	known := map[orb.Point]int{}
	for i := range s.opt.Tests.Samples {
		x := &s.opt.Tests.Samples[i]
		p, ok := x.Place.Point.Get()
		if !ok {
			continue
		}
		at, ok := s.plane.Forward(p)
		if !ok || !planar.MultiPolygonContains(field, at) {
			continue
		}
		k, ok := known[at]
		if !ok {
			k = len(spots)
			known[at] = k
			spots = append(spots, spot{at: at})
		}
		spots[k].samples = append(spots[k].samples, x)
	}
	var out []interp.Sample
	for _, x := range spots {
		if t := soiltest.Together(x.samples, top, s.opt.Lime.Date); t != nil {
			out = append(out, interp.Sample{At: x.at, Value: float64(t.PH)})
		}
	}
	return out
}

// splitPiece cuts a piece by management zones; the ground of the piece is kept to the last square of the grid.
func splitPiece(p overlay.Piece, layers [][]arrange.Polygon, least float64) []overlay.Piece {
	whole, ok := arrange.FromOrb(p.Shape, geo.PlaneStep)
	if !ok {
		return []overlay.Piece{p}
	}
	var parts [][]arrange.Polygon
	left := whole
	for _, l := range layers {
		if part := arrange.Intersection(left, l); len(part) > 0 {
			parts = append(parts, part)
			left = arrange.Difference(left, l)
		}
	}
	if len(left) > 0 {
		parts = append(parts, left)
	}
	area := func(x []arrange.Polygon) float64 { return arrange.Area(x) * geo.PlaneStep * geo.PlaneStep }
	largest := 0
	for i := range parts {
		if area(parts[i]) > area(parts[largest]) {
			largest = i
		}
	}
	var out []overlay.Piece
	for i, x := range parts {
		if i != largest && area(x) < least {
			parts[largest] = arrange.Union(parts[largest], x)
		}
	}
	for i, x := range parts {
		if i == largest || area(x) >= least {
			out = append(out, overlay.Piece{Field: p.Field, Polygon: p.Polygon, Key: p.Key, Area: area(x), Shape: arrange.ToOrb(x, geo.PlaneStep)})
		}
	}
	if len(out) < 2 {
		return []overlay.Piece{p}
	}
	return out
}

// named says whether bags name the zone that they speak for.
func named(voices []soiltest.Voice) bool {
	for _, v := range voices {
		if v.Basis == lab.ByZone {
			return true
		}
	}
	return false
}

// worthless says why zones are better off without a surface; "" where they are not.
func worthless(s *interp.Surface) string {
	switch {
	case s.Why != "":
		return s.Why
	case s.Check.Skill() <= 0:
		return suitability.NoBetterThanMean
	}
	return ""
}
