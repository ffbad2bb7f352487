package overlay

import (
	"cmp"
	"slices"

	"rootworthy/internal/geo/arrange"
)

// dissolve makes one piece of all pieces of a key. Slivers take part: left out, they would leave slits.
func (w *worker) dissolve() {
	// In a fixed order within a key too: edges are strung together in the order they come, not in that in which the index
	// found their polygons.
	slices.SortFunc(w.pieces, func(a, b piece) int {
		return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.polygon, b.polygon))
	})
	kept := w.pieces[:0]
	for i := 0; i < len(w.pieces); {
		j := i + 1
		for j < len(w.pieces) && w.pieces[j].key == w.pieces[i].key {
			j++
		}
		p := w.pieces[i]
		if j > i+1 { // one alone has nothing to be joined to, and keeps its rings as they were traced and tested
			p = w.join(w.pieces[i:j])
		}
		kept = append(kept, p)
		i = j
	}
	w.pieces = kept
}

// join makes one piece of several of one key. Lines between two of them are walked both ways and cancel; mostly what
// is left are valid rings. Where some touch, or pieces overlap, the slower way sorts it out.
func (w *worker) join(ps []piece) piece {
	if p, ok := w.joinRings(ps); ok {
		return p
	}
	var parts []arrange.Polygon
	for i := range ps {
		parts = append(parts, w.partsOf(&ps[i])...)
	}
	p := piece{polygon: ps[0].polygon, key: ps[0].key, parts: arrange.Dissolve(parts), mended: true}
	p.doubled = areaOf(p.parts)
	return p
}

// joinRings is the quick way. ok is false where it does not do: a mended piece has no rings in w.out; overlapping
// pieces leave edges that cross or run along each other, and pieces of zero width leave nothing at all. Whatever is
// handed out has passed the same exact test as any traced piece.
func (w *worker) joinRings(ps []piece) (p piece, ok bool) {
	points := 0
	for i := range ps {
		if ps[i].mended {
			return p, false
		}
		for _, r := range w.out.rings[ps[i].from:ps[i].to] {
			points += int(r.n)
		}
	}
	m := &w.merged
	m.reset(points)
	for i := range ps {
		for _, r := range w.out.rings[ps[i].from:ps[i].to] {
			m.addRing(w.out.pts[r.start:r.start+r.n], false)
		}
	}
	m.join()
	if len(m.rings.rings) == 0 || w.check.check(m.rings.pts, m.rings.rings, w.field.wide) != clean {
		return p, false
	}
	// To w.out, where the rings of all pieces are: w.merged is used again for the next key.
	first, start := len(w.out.rings), int32(len(w.out.pts))
	w.out.pts = append(w.out.pts, m.rings.pts...)
	for _, r := range m.rings.rings {
		w.out.rings = append(w.out.rings, span{start + r.start, r.n})
	}
	return w.take(ps[0].polygon, first, &w.check), true
}
