package overlay

import (
	"math/bits"
	"slices"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// residue is what is left of the field's boundary once the boundaries of all pieces are taken off it. Lines between two
// neighbours are walked once each way and cancel; what remains goes round uncovered ground counterclockwise, and round
// doubly covered ground clockwise. In a field that is covered once everywhere nothing remains.
type residue struct {
	edges   []line  // in the order they came; one that was cancelled has a = b
	table   []int32 // numbers of edges plus one, by their hash
	border  outline
	rings   outline
	byStart []int32
	used    []bool
}

// reset makes room for that many edges. The table stays at most half full: looking for an edge goes on to the first empty
// slot, of which there must be some.
func (r *residue) reset(edges int) {
	size := 1 << bits.Len(uint(2*edges))
	if cap(r.table) < size {
		r.table = make([]int32, size)
	}
	r.table = r.table[:size]
	clear(r.table)
	r.edges = r.edges[:0]
}

// add takes an edge in, or takes out one that runs the other way. Both hash alike, as the hashes of their ends are summed.
// An edge that comes twice the same way stands there twice, and is taken out once for each that comes against it.
func (r *residue) add(a, b geo.Pt) {
	mask := uint64(len(r.table) - 1)
	for k := (hash(a) + hash(b)) * 0x9e3779b97f4a7c15 >> 20; ; k++ {
		slot := &r.table[k&mask]
		if *slot == 0 {
			r.edges = append(r.edges, line{a, b})
			*slot = int32(len(r.edges))
			return
		}
		if e := &r.edges[*slot-1]; e.a == b && e.b == a {
			e.b = e.a // its slot stays taken, so that others are still found behind it
			return
		}
	}
}

func hash(p geo.Pt) uint64 {
	return (uint64(p.X)*0x9e3779b97f4a7c15 ^ uint64(p.Y)) * 0xbf58476d1ce4e5b9
}

// addRing adds the edges of a ring without its closing point.
func (r *residue) addRing(ring []geo.Pt, reverse bool) {
	a := ring[len(ring)-1]
	for _, b := range ring {
		if reverse {
			r.add(b, a)
		} else {
			r.add(a, b)
		}
		a = b
	}
}

func (r *residue) addParts(parts []arrange.Polygon, reverse bool) {
	for _, part := range parts {
		for _, ring := range part {
			r.addRing(ring, reverse)
		}
	}
}

// join strings the edges that are left together into closed rings: as many edges end in a point as begin there, so
// any walk along unused edges comes back to where it began. Most often the next edge is the next in the list.
func (r *residue) join() {
	r.edges = slices.DeleteFunc(r.edges, func(e line) bool { return e.a == e.b })
	r.rings.pts, r.rings.rings = r.rings.pts[:0], r.rings.rings[:0]
	r.byStart = r.byStart[:0]
	r.used = append(r.used[:0], make([]bool, len(r.edges))...)
	for i := range r.edges {
		if r.used[i] {
			continue
		}
		start := len(r.rings.pts)
		for k := i; ; k = r.following(k) {
			r.used[k] = true
			r.rings.push(start, r.edges[k].a)
			if r.edges[k].b == r.edges[i].a {
				break
			}
		}
		r.rings.close(start)
	}
}

// following returns an unused edge that begins where edge k ends.
func (r *residue) following(k int) int {
	p := r.edges[k].b
	if k+1 < len(r.edges) && r.edges[k+1].a == p && !r.used[k+1] {
		return k + 1
	}
	if len(r.byStart) == 0 {
		for i := range r.edges {
			r.byStart = append(r.byStart, int32(i))
		}
		slices.SortFunc(r.byStart, func(i, j int32) int { return r.edges[i].a.Compare(r.edges[j].a) })
	}
	i, _ := slices.BinarySearchFunc(r.byStart, p, func(e int32, p geo.Pt) int { return r.edges[e].a.Compare(p) })
	for r.used[r.byStart[i]] {
		i++
	}
	return int(r.byStart[i])
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
	w.boundary(&r.border)
	r.reset(len(r.border.pts) + len(w.out.pts) + w.mendedPoints())
	if w.loose {
		r.addParts(w.frame, false)
	} else {
		for _, s := range r.border.rings {
			r.addRing(r.border.pts[s.start:s.start+s.n], false)
		}
	}
	for i := range w.pieces {
		p := &w.pieces[i]
		if p.mended {
			r.addParts(p.parts, true)
			continue
		}
		for _, s := range w.out.rings[p.from:p.to] {
			r.addRing(w.out.pts[s.start:s.start+s.n], true)
		}
	}
	r.join()
}

func (w *worker) mendedPoints() (n int) {
	count := func(parts []arrange.Polygon) {
		for _, part := range parts {
			for _, ring := range part {
				n += len(ring)
			}
		}
	}
	count(w.frame)
	for i := range w.pieces {
		count(w.pieces[i].parts)
	}
	return n
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
