package field

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/index"
	"rootworthy/internal/ordered"
	"rootworthy/soils/unit"
)

const (
	// minOverlap is the least doubly drawn ground worth telling: 50 m², a hundredth of an acre. Neighbours drawn by
	// hand along one fence overlap by that much without anybody minding.
	minOverlap = unit.Area(50)
	// maxPairs bounds the pairs of fields that are compared, for each field: more boxes meet only in files that hold
	// the same fields many times over.
	maxPairs = 50
)

// tellOverlaps tells of each two fields that overlap, with the area. An exact area costs a hundred times what it costs to
// see that there is one; so it is worked out for what is told in words alone, and for the few pairs where the quick look
// is not sure.
func tellOverlaps(ctx context.Context, fields []Field, workers int, faults *diag.List) error {
	// Boxes of fields in trouble hold nothing and meet none.
	boxes := make([]geo.Box, len(fields))
	for i := range fields {
		boxes[i] = boxOf(fields[i].Shape)
	}
	// Boxes of neighbours nearly always meet, so most pairs share no ground at all.
	pairs, whole := pairsThatMeet(boxes)
	if len(pairs) == 0 {
		return nil
	}
	met := make([]bool, len(fields)) // most fields meet none
	for _, p := range pairs {
		met[p[0]], met[p[1]] = true, true
	}
	// Sorted edges are made once a field, not once a pair: a field in the middle of a farm meets six or eight others.
	edges, err := ordered.Map(ctx, len(fields), workers, func(i int) ([]edge, error) {
		if !met[i] {
			return nil, nil
		}
		return edgesOf(onGrid(fields[i].Shape)), nil
	})
	if err != nil {
		return err
	}
	finds, err := ordered.Map(ctx, len(pairs), workers, func(i int) (finding, error) {
		a, b := pairs[i][0], pairs[i][1]
		return look(edges[a], edges[b], boxes[a], boxes[b]), nil
	})
	if err != nil {
		return err
	}
	for i, found := range finds {
		if i%256 == 0 && ctx.Err() != nil {
			return context.Cause(ctx)
		}
		if found == apart {
			continue
		}
		a, b := pairs[i][0], pairs[i][1]
		one, other := &fields[a], &fields[b]
		// Worked out at most once, though both fields may tell it, and not at all when nobody will read it.
		exact := sync.OnceValue(func() unit.Area {
			return overlap(onGrid(one.Shape), onGrid(other.Shape), boxes[a], boxes[b])
		})
		other.tellOverlap(one, found, exact, faults)
		// Owners get reports of their own fields alone: where there are two, each must hear of it.
		if one.Customer != other.Customer {
			one.tellOverlap(other, found, exact, faults)
		}
	}
	if !whole {
		faults.Notice(diag.Fault{Kind: "overlap", What: fmt.Sprintf("so many fields lie on each other that only the first %d pairs were looked at", len(pairs))})
	}
	return nil
}

// tellOverlap tells that the field lies on another one, and by how much where that will be read.
func (f *Field) tellOverlap(other *Field, found finding, exact func() unit.Area, faults *diag.List) {
	notice := f.fault("overlap", "", "")
	notice.Severity = diag.Notice
	if found == overlapping && !faults.Keeps(notice) { // counted alone: nobody will read by how much
		faults.Notice(notice)
		return
	}
	a := exact()
	if a < minOverlap {
		return
	}
	notice.What = fmt.Sprintf("it overlaps the field %s by %s, which count for both", other.ID, area(a))
	// Within one file its own ids are enough.
	if other.File != f.File {
		notice.What = fmt.Sprintf("it overlaps the field %s of %s by %s, which count for both", other.ID, other.File, area(a))
	}
	faults.Notice(notice)
}

// pairsThatMeet returns the pairs of boxes that meet, the lesser place first, in order; whole is false when there are
// too many and some were left out.
func pairsThatMeet(boxes []geo.Box) (pairs [][2]int, whole bool) {
	tree := index.Build(boxes)
	var found []uint32
	for i, b := range boxes {
		found = tree.Search(b, found[:0])
		slices.Sort(found)
		for _, j := range found {
			if int(j) < i {
				pairs = append(pairs, [2]int{int(j), i})
			}
		}
		// For all together and not field by field: a whole-farm outline over a hundred fields is one field with many
		// pairs, and all of them should be looked at.
		if len(pairs) > maxPairs*len(boxes) {
			return pairs, false
		}
	}
	return pairs, true
}

// overlap returns the ground that two fields share. Only what lies in the common part of their boxes is compared.
func overlap(a, b []arrange.Polygon, boxA, boxB geo.Box) unit.Area {
	common := geo.Box{X0: max(boxA.X0, boxB.X0), Y0: max(boxA.Y0, boxB.Y0), X1: min(boxA.X1, boxB.X1), Y1: min(boxA.Y1, boxB.Y1)}
	// Neighbours share a fence, and the rest of their corners is of no use.
	a, b = clipAll(a, common), clipAll(b, common)
	if len(a) == 0 || len(b) == 0 {
		return 0
	}
	return areaOf(arrange.ToOrb(arrange.Intersection(a, b), step))
}

// clipAll clips all parts and drops those of which nothing is left.
func clipAll(parts []arrange.Polygon, b geo.Box) []arrange.Polygon {
	var out []arrange.Polygon
	for _, p := range parts {
		if c := clip(p, b); len(c) > 0 {
			out = append(out, c)
		}
	}
	return out
}
