package change

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/geo/overlay"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Compare overlays the zones of two runs, fields that lie on one another at a time. Both may have been measured in other planes; shapes are
// taken as the runs hold them, in longitude and latitude, and measured in one. The error is the context's, or names a field whose
// shape has no place on Earth.
func Compare(ctx context.Context, a, b *suitability.Result) (*Comparison, error) {
	// One plane for both, whatever planes they were measured in: equal ground must have equal areas, or identical zones would differ.
	in := ground{proj.PlaneFor(boundOf(a).Union(boundOf(b)))}
	fields, err := match(ctx, a, b, in)
	if err != nil {
		return nil, err
	}
	c := &Comparison{A: a, B: b, Fields: fields}
	return c, c.overlay(ctx, in)
}

// boundOf is the box around all fields of a run.
func boundOf(r *suitability.Result) (all orb.Bound) {
	first := true
	for i := range r.Fields {
		switch shape := r.Fields[i].Shape; {
		case len(shape) == 0: // beyond repair: it is in the run, but has no ground
		case first:
			all, first = shape.Bound(), false
		default:
			all = all.Union(shape.Bound())
		}
	}
	if first {
		return orb.Bound{Min: orb.Point{1, 1}, Max: orb.Point{-1, -1}} // empty: adds nothing to another one
	}
	return all
}

// overlay fills the pairs of all fields. Groups of fields have nothing to do with one another, so that each is an overlay of its own, and as many
// are under way as there are processors; each writes its own place, so the order stays.
func (c *Comparison) overlay(ctx context.Context, in ground) error {
	var next atomic.Int64
	var wg sync.WaitGroup
	errs := make([]error, len(c.Fields))
	for range min(runtime.GOMAXPROCS(0), len(c.Fields)) {
		wg.Go(func() {
			for i := int(next.Add(1) - 1); i < len(c.Fields) && ctx.Err() == nil; i = int(next.Add(1) - 1) {
				errs[i] = in.pair(ctx, c.A, c.B, &c.Fields[i])
			}
		})
	}
	wg.Wait()
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// ground is the plane in which two runs are measured.
type ground struct{ plane proj.Plane }

// part is a zone in the plane, or ground outside the survey.
type part struct {
	ground Ground
	shape  orb.MultiPolygon
}

// parts are the zones of some fields, and their ground outside the survey.
func (in ground) parts(r *suitability.Result, fields []int) ([]part, error) {
	var out []part
	for _, i := range fields {
		f := &r.Fields[i]
		add := func(g Ground, shape orb.MultiPolygon) error {
			// Densified as a run is cut: edges that neighbours share get the same points, so zones of one run still fit to the bit.
			flat, err := in.plane.ForwardMultiPolygon(shape, true)
			if err == nil && len(flat) > 0 {
				out = append(out, part{g, flat})
			}
			return err
		}
		// Ground outside the survey is ground of the field like any other, and a survey that was extended shows by it.
		err := add(Outside, f.Outside)
		for _, z := range f.Zones {
			if err == nil && z >= 0 && z < len(r.Zones) { // any caller may put a result together
				err = add(Ground(z), r.Zones[z].Shape)
			}
		}
		if err != nil {
			return nil, about(f, err)
		}
	}
	return out, nil
}

// pair cuts the zones of the first run by those of the second, and looks what of the second the first does not cover.
func (in ground) pair(ctx context.Context, a, b *suitability.Result, f *Fields) error {
	ofA, err := in.parts(a, f.A)
	if err != nil {
		return err
	}
	ofB, err := in.parts(b, f.B)
	if err != nil {
		return err
	}
	// Several polygons can be one ground: what lies outside the survey of several fields is one for all of them.
	pairs := map[[2]Ground]*Pair{}
	add := func(a, b Ground, area, small float64) {
		p := pairs[[2]Ground{a, b}]
		if p == nil {
			p = &Pair{A: a, B: b}
			pairs[[2]Ground{a, b}] = p
		}
		p.Area += unit.Area(area)
		p.Small += unit.Area(small)
	}
	err = cut(ctx, ofA, ofB, func(from Ground, c overlay.Cut) {
		for _, p := range c.Pieces {
			add(from, ofB[p.Key].ground, p.Area, small(p.Area, p.Shape))
		}
		f.Crumbs[0] += unit.Area(c.Slivers)
		f.Crumbs[1] += unit.Area(c.Slivers)
		f.tally(0, c, func(area, small float64) { add(from, Nowhere, area, small) })
	})
	if err != nil {
		return err
	}
	// The other way round for what the second run has alone. It could be had as the rest of its areas, but then nothing would show that the
	// pairs add up.
	err = cut(ctx, ofB, ofA, func(from Ground, c overlay.Cut) {
		f.tally(1, c, func(area, small float64) { add(Nowhere, from, area, small) })
	})
	for _, p := range pairs {
		f.Pairs = append(f.Pairs, *p)
	}
	slices.SortFunc(f.Pairs, func(x, y Pair) int { return cmp.Or(cmp.Compare(x.A, y.A), cmp.Compare(x.B, y.B)) })
	return err
}

// tally takes from the cut of one part of a run what the other run does not cover.
func (f *Fields) tally(run int, c overlay.Cut, alone func(area, small float64)) {
	f.Areas[run] += unit.Area(c.Area)
	f.Doubled[run] += unit.Area(c.Doubled)
	if c.Uncovered < overlay.SliverArea { // as float64 leaves it, where zones fit to the bit
		f.Crumbs[run] += unit.Area(c.Uncovered)
		return
	}
	alone(c.Uncovered, small(c.Uncovered, c.Gaps))
}

// cut overlays parts with a cover of others, each a polygon whose key is its place.
func cut(ctx context.Context, parts, cover []part, each func(Ground, overlay.Cut)) error {
	under := overlay.New()
	for i, p := range cover {
		if err := under.Add(uint32(i), p.shape); err != nil { // copied, for it is cut in its turn
			return err
		}
	}
	fields := func(yield func(int, orb.MultiPolygon) bool) {
		for i, p := range parts {
			if !yield(i, p.shape) {
				return
			}
		}
	}
	// One worker: fields are compared side by side already, and an overlay of a few zones is over before a second one would have begun.
	return under.Run(ctx, fields, overlay.Options{Workers: 1, Gaps: true}, func(c overlay.Cut) error {
		each(parts[c.Field].ground, c)
		return nil
	})
}

// take adds a shape in degrees to a cover.
func (in ground) take(cover *overlay.Coverage, key uint32, shape orb.MultiPolygon) error {
	flat, err := in.plane.ForwardMultiPolygon(shape, true)
	if err != nil {
		return err
	}
	return cover.Take(key, flat)
}

// areas measures the fields of a run by their shapes, so that shares do not depend on the plane in which the run was made.
func (in ground) areas(r *suitability.Result) []float64 {
	out := make([]float64, len(r.Fields))
	for i := range r.Fields {
		if flat, err := in.plane.ForwardMultiPolygon(r.Fields[i].Shape, true); err == nil { // else told by the overlay
			out[i] = planar.Area(flat)
		}
	}
	return out
}

func about(f *suitability.Field, err error) error { return fmt.Errorf("field %s: %w", f.ID, err) }
