package overlay

import (
	"cmp"
	"slices"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// residue is what is left of the field's boundary once the boundaries of all pieces are taken off it. Lines between two
// neighbours are walked once each way and cancel; what remains goes round uncovered ground counterclockwise,
// and round doubly covered ground clockwise. In a field that is covered once everywhere nothing remains.
type residue struct {
	edges []line
	rings outline
}

func (r *residue) add(ring []geo.Pt, reverse bool) {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if reverse {
			a, b = b, a
		}
		r.edges = append(r.edges, line{a, b})
	}
}

func (l line) canonical() (lo, hi geo.Pt, forth int) {
	if l.b.Less(l.a) {
		return l.b, l.a, -1
	}
	return l.a, l.b, 1
}

func compareLines(e, f line) int {
	a, b, _ := e.canonical()
	c, d, _ := f.canonical()
	return cmp.Or(a.Compare(c), b.Compare(d))
}

// cancel takes out edges that are walked both ways.
func (r *residue) cancel() {
	slices.SortFunc(r.edges, compareLines)
	kept := r.edges[:0]
	for i := 0; i < len(r.edges); {
		lo, hi, _ := r.edges[i].canonical()
		net, j := 0, i
		for ; j < len(r.edges) && compareLines(r.edges[i], r.edges[j]) == 0; j++ {
			_, _, forth := r.edges[j].canonical()
			net += forth
		}
		for ; net > 0; net-- {
			kept = append(kept, line{lo, hi})
		}
		for ; net < 0; net++ {
			kept = append(kept, line{hi, lo})
		}
		i = j
	}
	r.edges = kept
}

// join strings the edges together into closed rings: as many edges end in a point as begin there, so any walk along unused
// edges comes back to where it began.
func (r *residue) join() {
	slices.SortFunc(r.edges, func(e, f line) int { return cmp.Or(e.a.Compare(f.a), e.b.Compare(f.b)) })
	r.rings.pts, r.rings.rings = r.rings.pts[:0], r.rings.rings[:0]
	used := make([]bool, len(r.edges))
	from := func(p geo.Pt) int {
		i, _ := slices.BinarySearchFunc(r.edges, p, func(e line, p geo.Pt) int { return e.a.Compare(p) })
		for used[i] {
			i++
		}
		return i
	}
	for i := range r.edges {
		if used[i] {
			continue
		}
		start := len(r.rings.pts)
		for k := i; ; k = from(r.edges[k].b) {
			used[k] = true
			r.rings.push(start, r.edges[k].a)
			if r.edges[k].b == r.edges[i].a {
				break
			}
		}
		r.rings.close(start)
	}
}

// reversed returns the rings the other way round.
func (r *residue) reversed() [][]geo.Pt {
	var rings [][]geo.Pt
	for _, ring := range r.rings.open(0) {
		ring = slices.Clone(ring)
		slices.Reverse(ring)
		rings = append(rings, ring)
	}
	return rings
}

// findResidue fills w.rest.
func (w *worker) findResidue() {
	r := &w.rest
	r.edges = r.edges[:0]
	if w.loose {
		for _, part := range w.frame {
			for _, ring := range part {
				r.add(ring, false)
			}
		}
	} else {
		for _, ring := range w.boundary().open(0) {
			r.add(ring, false)
		}
	}
	for i := range w.pieces {
		for _, part := range w.partsOf(&w.pieces[i]) {
			for _, ring := range part {
				r.add(ring, true)
			}
		}
	}
	r.cancel()
	r.join()
}

// gaps splits the difference between the field's area and its pieces' into ground uncovered and ground covered more
// than once, both doubled areas, and returns their shapes if wanted.
func (w *worker) gaps(difference geo.Int128, shapes bool) (uncovered, covered geo.Int128, gaps, overlaps []arrange.Polygon) {
	if difference.Sign() == 0 && !shapes && !w.loose {
		return
	}
	w.findResidue()
	rings := &w.rest.rings
	if len(rings.rings) == 0 {
		return difference, covered, nil, nil
	}
	// Mostly there is only one of the two, with rings that need no more work.
	if !shapes && w.check.check(rings.pts, rings.rings, w.field.wide) == clean {
		return difference, covered, nil, nil
	}
	gaps = arrange.Assemble(rings.open(0))
	overlaps = arrange.Assemble(w.rest.reversed())
	uncovered = areaOf(gaps)
	covered = uncovered.Sub(difference)
	if covered.Sign() < 0 { // by rounding, when the lines of the gaps were noded
		uncovered, covered = difference, geo.Int128{}
	}
	return uncovered, covered, gaps, overlaps
}
