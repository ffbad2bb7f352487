package job

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/overlay"
	"rootworthy/raster/interp"
	"rootworthy/raster/managementzone"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// SplitBy is the surface that a split follows.
type SplitBy uint8

// The surfaces. The zero value is the pH of the topsoil, which needs no lime method.
const (
	SplitByPH SplitBy = iota
	SplitByLime
)

// Split asks for zones to be split further, along a surface through the field's points.
type Split struct {
	Most  int         // management zones of a field at most
	Width unit.Length // that a spreader can follow; 0 means three cells of the surface
	By    SplitBy     // SplitByLime needs Tests.Method
}

// prepareSplit refuses samples that name zones: a split numbers the zones anew, and they would speak for other ground. It
// tells where no sample has a place to draw a surface through: then no field has a word to say of its own.
func (s *screening) prepareSplit() error {
	t := s.opt.Tests
	if t == nil || t.Split == nil {
		return nil
	}
	if t.Split.By == SplitByLime && t.Method == nil {
		return errors.New("a split by the lime requirement needs a lime method; choose one, or split by pH")
	}
	placed := false
	for i := range t.Samples {
		x := &t.Samples[i]
		if x.Place.Zone != "" {
			return fmt.Errorf("%s:%d: the sample names zone %s, and a split numbers zones anew; place samples by lon and lat, or do not split", x.File, x.Line, x.Place.Zone)
		}
		placed = placed || x.Place.Point.Has()
	}
	// Before the cut, because fields are finished side by side and all of them look the spots up.
	s.placeTopsoil()
	if !placed {
		s.faults.Notice(diag.Fault{Field: "lon, lat", Kind: "split", What: "no zone is split, because no sample has coordinates", Fix: "place samples by lon and lat"})
	}
	return nil
}

// split cuts the pieces of a field along management zones of a tested surface. Parts of a piece that are smaller than four
// squares of the spreader's width stay with the largest: soil lines cross the zones anywhere, and a sliver that they leave
// is no ground to change a rate on. Without a surface worth its name nothing is cut, and that is told.
func (s *screening) split(ctx context.Context, c *overlay.Cut) error {
	t := s.opt.Tests
	if t == nil || t.Split == nil || t.Surface == nil || len(c.Boundary) == 0 {
		return nil
	}
	guide, ok := s.guide(c.Boundary)
	if !ok {
		return nil
	}
	// Every way out below says why: a user who asked for a split and sees none would think it forgotten.
	told := func(what, fix string) {
		s.faults.Notice(diag.Fault{Feature: "field " + s.fields[c.Field].ID, Ground: s.fields[c.Field].ID, Field: guide.of, Kind: "split", What: what, Fix: fix})
	}
	if guide.why != "" {
		told("not split by "+guide.by+": "+guide.why, guide.fix)
		return nil
	}
	// The whole boundary and not the pieces: one surface for the field, whatever soils lie under it.
	m, why, err := s.manage(ctx, c.Boundary, guide)
	switch {
	case err != nil:
		return fmt.Errorf("field %s: %w", s.fields[c.Field].ID, err)
	case why == notApart:
		told("not split by "+guide.by+": "+why, "")
		return nil
	case why != "":
		told("not split by "+guide.by+": "+why, "sample more densely")
		return nil
	}
	if c.Pieces, err = splitPieces(ctx, c.Pieces, m); err != nil {
		return err
	}
	told(fmt.Sprintf("split by %s into %d zones of at least %.0f m, which hold %.0f percent of its variance; means%s; %s",
		guide.by, len(m.Zones), m.width, 100*m.Explained, guide.inWords(m.Zones), m.drawn), "")
	return nil
}

// managed is a field in management zones.
type managed struct {
	*managementzone.Split
	width float64 // metres that a zone has at least: the spreader's, or three cells
	drawn string  // how the surface was drawn
}

// notApart is why a field stays whole although its surface is sound.
const notApart = "no two zones of that width differ enough"

// manage draws the surface that a guide stands for and divides it; why says what keeps the field whole.
func (s *screening) manage(ctx context.Context, field orb.MultiPolygon, g guide) (m managed, why string, err error) {
	t := s.opt.Tests
	// cells of a third of the width: blocks are of whole cells, and so come out at most a third wider than asked for
	surface, err := interp.Interpolate(ctx, frameOver(field, float64(t.Split.Width)/3), g.points,
		// With too few points for the method the surface is their mean, which worthless then refuses with the reason.
		interp.Options{Method: *t.Surface, Few: interp.Mean, Inside: field, Workers: s.opt.Workers})
	if err != nil {
		return m, "", err
	}
	if why := worthless(surface); why != "" {
		return m, why, nil
	}
	if g.floor {
		noNegative(surface.Values)
	}
	m.drawn = fmt.Sprintf("%s through %d points", surface.Method, surface.Points)
	m.width = math.Max(float64(t.Split.Width), 3*surface.Values.Frame().DX)
	m.Split, err = managementzone.Divide(ctx, surface.Values, managementzone.Options{Most: t.Split.Most, Width: m.width, LeastStep: g.step})
	if err == nil && len(m.Zones) < 2 {
		why = notApart
	}
	return m, why, err
}

// splitPieces cuts pieces along the outlines of management zones.
func splitPieces(ctx context.Context, pieces []overlay.Piece, m managed) ([]overlay.Piece, error) {
	shapes, err := m.Shapes(ctx)
	if err != nil {
		return nil, err
	}
	// In the order of the zones, so that pieces are cut in the same way every time.
	var layers [][]arrange.Polygon
	for _, z := range shapes {
		// On the grid of the plane, on which the pieces lie as well: set operations on integers leave no slivers of their own.
		if parts, ok := arrange.FromOrb(z.Shape, geo.PlaneStep); ok {
			layers = append(layers, parts)
		}
	}
	var out []overlay.Piece
	for _, p := range pieces {
		out = append(out, splitPiece(p, layers, 4*m.width*m.width)...)
	}
	return out, nil
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
		// from what is left and not from the whole: layers share borders to the bit, and so nothing is cut twice
		if part := arrange.Intersection(left, l); len(part) > 0 {
			parts = append(parts, part)
			left = arrange.Difference(left, l)
		}
	}
	// rounding may leave a sliver that no zone holds
	if len(left) > 0 {
		parts = append(parts, left)
	}
	// In square metres: shapes on the grid count in steps of it.
	area := func(x []arrange.Polygon) float64 { return arrange.Area(x) * geo.PlaneStep * geo.PlaneStep }
	largest := 0
	// One part at least is kept, however small the piece is: ground is never dropped.
	for i := range parts {
		if area(parts[i]) > area(parts[largest]) {
			largest = i
		}
	}
	var out []overlay.Piece
	for i, x := range parts {
		// to the largest part of the same piece, whatever lies beside it: across a soil line it would be another zone
		if i != largest && area(x) < least {
			parts[largest] = arrange.Union(parts[largest], x)
		}
	}
	for i, x := range parts {
		if i == largest || area(x) >= least {
			out = append(out, overlay.Piece{Field: p.Field, Polygon: p.Polygon, Key: p.Key, Area: area(x), Shape: arrange.ToOrb(x, geo.PlaneStep)})
		}
	}
	// cut and put together again: the piece as it was has fewer corners
	if len(out) < 2 {
		return []overlay.Piece{p}
	}
	return out
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
