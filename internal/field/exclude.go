package field

import (
	"context"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/index"
	"rootworthy/internal/ordered"
	"rootworthy/soils/unit"
)

// minPart is the least ground that is kept as a part of its own when something is cut out: a square metre. Where the
// line of a set-back follows that of the field, slivers narrower than a hand are left over.
const minPart = unit.Area(1)

// excluded is all ground to cut out, part by part.
type excluded struct {
	parts []arrange.Polygon
	boxes []geo.Box
	from  []int // the drawing each part is of
	tree  *index.Tree
}

// exclude cuts the drawings out of the fields.
func exclude(ctx context.Context, fields []Field, drawn []drawing, opt Options, faults *diag.List) error {
	if len(drawn) == 0 {
		return nil
	}
	ground, err := gather(ctx, drawn, opt.Workers, faults)
	if err != nil {
		return err
	}
	// Each worker cuts the fields that it gets; what they used is gathered afterwards in the order of the fields.
	used, err := ordered.Map(ctx, len(fields), opt.Workers, func(i int) ([]int, error) { return ground.cut(&fields[i]), nil })
	if err != nil {
		return err
	}
	meets := make([]bool, len(drawn))
	for i := range fields {
		f := &fields[i]
		for _, k := range used[i] {
			meets[k] = true
		}
		// A field that vanished is a fault and not a notice: its owner asked for an answer and gets none.
		if f.Excluded > 0 && len(f.Shape) == 0 {
			f.beyond("excluded", "it lies wholly in the ground to exclude", "take it out of the fields, or correct the file of --exclude", faults)
		}
	}
	for k, d := range drawn {
		// Most likely the wrong file, or one in another system: it would be believed to be cut out.
		if d.Trouble == "" && !meets[k] {
			faults.Notice(diag.Fault{File: d.File, Line: d.Line, Feature: d.label, Kind: "excludes nothing", What: "it meets no field"})
		}
	}
	return nil
}

// gather mends the drawings and takes them apart.
// Drawings are mended as fields are, since cutting needs valid shapes.
func gather(ctx context.Context, drawn []drawing, workers int, faults *diag.List) (*excluded, error) {
	out, err := ordered.Map(ctx, len(drawn), workers, func(i int) (mended, error) { return mend(drawn[i].shape), nil })
	if err != nil {
		return nil, err
	}
	g := &excluded{}
	for i := range drawn {
		d := &drawn[i]
		if d.Trouble == "" && len(out[i].shape) == 0 {
			d.Trouble = "it surrounds no ground, so nothing is excluded"
			// A fault: a set-back that is not kept is worse than a field that is not rated.
			faults.Add(diag.Fault{File: d.File, Line: d.Line, Feature: d.label, Kind: "beyond repair", What: d.Trouble, Fix: "draw it again"})
		}
		for _, p := range onGrid(out[i].shape) {
			// Part by part, each with a box of its own: all waters of a county may be one feature, whose box meets every
			// field.
			g.parts = append(g.parts, p)
			g.boxes = append(g.boxes, boxOfRing(p[0]))
			g.from = append(g.from, i)
		}
	}
	g.tree = index.Build(g.boxes)
	return g, nil
}

// cut takes the ground out of one field and returns the drawings that took something.
func (g *excluded) cut(f *Field) (used []int) {
	box := boxOf(f.Shape)
	// Boxes are padded by a grid unit, so one too many may be found; the intersection below decides.
	found := g.tree.Search(box, nil)
	// The tree answers in an order of its own; the result of an arrangement must not depend on it.
	slices.Sort(found)
	// A field with nothing near it keeps its shape bit for bit, since it never goes through the grid.
	if f.Trouble != "" || len(found) == 0 {
		return nil
	}
	field := onGrid(f.Shape)
	var away []arrange.Polygon
	for _, k := range found {
		// Near the field alone: a river has a hundred thousand corners.
		part := clip(g.parts[k], box)
		// Asked of each part by itself, so that a part that only lies near is not counted as used.
		if len(part) > 0 && len(arrange.Intersection(field, []arrange.Polygon{part})) > 0 {
			away = append(away, part)
			used = append(used, g.from[k])
		}
	}
	if len(away) == 0 {
		return nil
	}
	// Before less after, and not the area of what is cut out: parts may overlap each other and reach out of the field.
	before := areaOf(f.Shape)
	// All parts at once: one after the other, each cut would be rounded to the grid anew.
	left := arrange.ToOrb(arrange.Difference(field, away), step)
	f.Shape = nil
	for _, p := range left {
		if areaOf(orb.MultiPolygon{p}) >= minPart {
			f.Shape = append(f.Shape, p)
		}
	}
	// Slivers under minPart count as excluded, so that what is left and what was cut out add up to the field.
	f.Excluded = before - areaOf(f.Shape)
	f.Repairs = append(f.Repairs, fmt.Sprintf("%s were cut out as asked", area(f.Excluded)))
	return used
}
