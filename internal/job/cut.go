package job

import (
	"context"
	"fmt"
	"iter"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/geo/overlay"
	"rootworthy/internal/ordered"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// batch is how many cut fields wait to be finished in parallel: enough to keep every worker busy, few enough that
// memory does not grow with the number of fields.
const batch = 256

// finished is one field with its zones, ready for the result.
type finished struct {
	field suitability.Field
	zones []suitability.Zone
}

// cut runs the overlay and finishes the fields in batches.
func (s *screening) cut(ctx context.Context) error {
	// In the order of the fields, whoever is ready first.
	s.done = make([]finished, 0, len(s.fields))
	// Filled by the overlay's callback, which comes from one goroutine in the order of the fields; so neither list needs a
	// lock.
	var waiting []overlay.Cut
	// Cuts are finished (rounded, rated, limed) by several workers, and then told as one step of progress.
	flush := func() error {
		// The cut itself is ordered and quick; rounding, rating and planning are what takes time.
		out, err := ordered.Map(ctx, len(waiting), s.opt.Workers, func(i int) (finished, error) { return s.finish(ctx, waiting[i]) })
		s.done = append(s.done, out...)
		// before the error is looked at: what was handed out is done with either way
		waiting = waiting[:0]
		s.opt.Progress("rating fields", len(s.done), len(s.fields))
		return err
	}
	// Dissolved, because a zone is all ground of a map unit in a field; with gaps and boundary, because these are
	// rounded and written with the zones.
	opt := overlay.Options{Workers: s.opt.Workers, Dissolve: true, Gaps: true, Boundary: true}
	err := s.ground.Run(ctx, s.planeFields(), opt, func(c overlay.Cut) error {
		waiting = append(waiting, c)
		// Returning without an error asks the overlay for the next field; an error from flush stops it.
		if len(waiting) < batch {
			return nil
		}
		return flush()
	})
	if err != nil {
		return err
	}
	return flush()
}

// planeFields yields every field in the plane; one without a usable shape comes as an empty one.
func (s *screening) planeFields() iter.Seq2[int, orb.MultiPolygon] {
	return func(yield func(int, orb.MultiPolygon) bool) {
		for i, f := range s.fields {
			// Densified: an edge that is straight in degrees is bent in the plane, and the survey's lines are bent alike in lay.
			shape, err := s.plane.ForwardMultiPolygon(f.Shape, true)
			// A field on the other side of the globe has no place in the plane of the others. It goes on as an empty
			// one, so that every field has its cut and the order holds; why is kept for [screening.finish].
			if err != nil {
				s.displaced.Store(i, err)
			}
			// An empty shape is yielded too: the overlay numbers its cuts by what it is given, and fields are found again by that
			// number.
			if !yield(i, shape) {
				return
			}
		}
	}
}

// finish turns a cut into a field and its zones.
// It runs in several goroutines at once; each has a field of its own.
func (s *screening) finish(ctx context.Context, c overlay.Cut) (finished, error) {
	in := s.fields[c.Field]
	if err, ok := s.displaced.Load(c.Field); ok {
		in.Trouble = fmt.Sprint("it cannot be placed in one plane with the other fields: ", err)
		s.faults.Add(diag.Fault{File: in.File, Line: in.Line, Feature: in.ID, Ground: in.ID, Kind: "out of the plane", What: in.Trouble, Fix: "screen it in a run of its own"})
	}
	// Areas are those of the cut, measured in the plane; the shape is replaced below by its rounded form.
	out := finished{field: newField(in, c)}
	s.fields[c.Field].Shape = nil // what was drawn is half of the memory, and from here on the cut stands for it
	// In the result all the same, with the reason: a field that vanished would not be missed until autumn.
	if in.Trouble != "" {
		return out, nil
	}
	// In the plane and before rounding, so that the new lines are rounded together with all others.
	if err := s.split(ctx, &c); err != nil {
		return out, err
	}
	ground, err := s.round(c)
	if err != nil {
		return out, err
	}
	out.field.Shape, out.field.Outside = ground.field, ground.outside
	// after rounding: slope is measured on the ground as it is written
	relief, err := s.relief.field(ctx, in.ID, ground.field, ground.zones)
	if err != nil {
		return out, err
	}
	out.zones = s.zones(in, c, ground, relief)
	s.tellCover(in, c, &out.field)
	return out, nil
}

// newField is the field as the result keeps it: what was read, and the areas that the overlay measured.
func newField(in field.Field, c overlay.Cut) suitability.Field {
	// Uncovered is what no survey polygon covers, Doubled what more than one does; both lie within Area.
	f := suitability.Field{ID: in.ID, Name: in.Name, Customer: in.Customer, Farm: in.Farm, Shape: in.Shape, Drained: in.Drained, Trouble: in.Trouble, Repairs: in.Repairs,
		Area: unit.Area(c.Area), Uncovered: unit.Area(c.Uncovered), Doubled: unit.Area(c.Doubled), Excluded: in.Excluded}
	for _, a := range in.Attributes {
		f.Attributes = append(f.Attributes, suitability.Attribute(a))
	}
	return f
}

// minUncovered is the least uncovered ground worth telling: 10 m². The survey's edge and a field's edge that follow the
// same line never agree to the metre.
const minUncovered = unit.Area(10)

// tellCover says what part of a field the survey does not cover, or covers twice.
func (s *screening) tellCover(in field.Field, c overlay.Cut, f *suitability.Field) {
	switch {
	// a fault, since all that was asked for is missing; a part that is missing is a notice
	case len(c.Pieces) == 0:
		f.Trouble = "outside the survey"
		s.faults.Add(diag.Fault{File: in.File, Line: in.Line, Feature: in.ID, Ground: in.ID, Kind: "outside the survey", What: "the field lies wholly outside the survey", Fix: "add the soil survey of its county with another --survey"})
	// No Fix: often it is water or a town that the survey leaves out on purpose, and nothing is to be done.
	case f.Uncovered >= minUncovered:
		f.Partly = true
		s.faults.Notice(diag.Fault{File: in.File, Line: in.Line, Feature: in.ID, Ground: in.ID, Kind: "partly outside", What: fmt.Sprintf("%.1f ac (%.1f ha) of it lie outside the survey and are not rated", f.Uncovered.Acres(), f.Uncovered.Hectares())})
	}
	// Two surveys that overlap, or one with polygons drawn over each other; the sums of zones are then larger than the
	// field, and must be told to be.
	if f.Doubled >= minUncovered {
		s.faults.Notice(diag.Fault{File: in.File, Line: in.Line, Feature: in.ID, Ground: in.ID, Kind: "covered twice", What: fmt.Sprintf("the survey has %.2f ac (%.2f ha) of it twice; its zones count them twice", f.Doubled.Acres(), f.Doubled.Hectares()), Fix: "where two surveys draw it, give the better one alone"})
	}
}
