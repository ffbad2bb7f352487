package overlay

import (
	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// mend makes the field valid that was loaded from shape and found not to be.
func (f *figure) mend(shape orb.MultiPolygon) *Repair {
	r := &Repair{}
	if f.bad {
		shape, r.Dropped = finite(shape)
		f.load(shape)
	}
	o := outline{pts: f.pts, rings: f.rings}
	r.Before = geo.SquareMetres(f.area)
	var valid figure
	valid.loadParts(r.mend(o.open(0)))
	*f = valid
	return r
}

// finite returns shape without the points that no grid has a place for, and how many they are.
func finite(shape orb.MultiPolygon) (out orb.MultiPolygon, dropped int) {
	out = make(orb.MultiPolygon, len(shape))
	for i, part := range shape {
		out[i] = make(orb.Polygon, len(part))
		for j, ring := range part {
			for _, p := range ring {
				if onGrid(snapFast(p[0])) && onGrid(snapFast(p[1])) {
					out[i][j] = append(out[i][j], p)
				} else {
					dropped++
				}
			}
		}
	}
	return out, dropped
}

// acceptAnyway takes a piece whose rings are not valid though the field and the polygon are. Two things bring that
// about: parts of the ground meet in points or lines of no width, which only need to be put together anew; or
// rounding a crossing to the grid made two lines cross that had passed each other within a grid unit.
func (w *worker) acceptAnyway(id uint32, traced bool) {
	p := piece{polygon: id, key: w.cov.polygons[id].key, mended: true}
	if !traced {
		// Impossible for valid boundaries; but should the reasoning have a hole, the ground is still right.
		w.loose = true
		p.parts = arrange.Intersection(w.fieldParts(), arrange.EvenOdd(w.soilRings()))
		p.doubled = areaOf(p.parts)
		w.pieces = append(w.pieces, p)
		return
	}
	// Traced again, as accept may have taken spikes out of the rings, and the caller has dropped them. The area is that of
	// the rings as traced, with which all pieces sum up to the field; if the parts have another, all are fitted anew.
	first, points := len(w.out.rings), len(w.out.pts)
	w.trace()
	rings := w.out.open(first)
	p.parts = arrange.Assemble(rings)
	for _, r := range rings {
		p.doubled = p.doubled.Add(geo.DoubledArea(r))
	}
	w.loose = w.loose || areaOf(p.parts) != p.doubled || !drawnFrom(p.parts, rings)
	w.out.rings, w.out.pts = w.out.rings[:first], w.out.pts[:points]
	w.pieces = append(w.pieces, p)
}

// drawnFrom says whether all edges of parts are edges of rings. If they are, the neighbours still share every line with
// this piece; if a line had to be cut in a new point, they do not have it.
func drawnFrom(parts []arrange.Polygon, rings [][]geo.Pt) bool {
	edges := map[line]bool{}
	each := func(ring []geo.Pt, f func(line)) {
		for i := range ring {
			f(line{ring[i], ring[(i+1)%len(ring)]})
		}
	}
	for _, ring := range rings {
		each(ring, func(e line) { edges[e] = true })
	}
	all := true
	for _, part := range parts {
		for _, ring := range part {
			each(ring, func(e line) { all = all && edges[e] })
		}
	}
	return all
}

func (w *worker) fieldParts() []arrange.Polygon {
	o := outline{pts: w.field.pts, rings: w.field.rings}
	return arrange.EvenOdd(o.open(0))
}

func (w *worker) soilRings() (rings [][]geo.Pt) {
	for _, r := range w.soil.rings {
		rings = append(rings, w.soil.appendRing(nil, span{r.start, r.n - 1})) // one less: without the closing point
	}
	return rings
}

// fit nodes all pieces of the field together, with the field's own boundary, so that they fit again.
func (w *worker) fit() {
	layers := [][]arrange.Polygon{w.boundaryParts()}
	for i := range w.pieces {
		layers = append(layers, w.partsOf(&w.pieces[i]))
	}
	layers = arrange.Cover(layers)
	w.frame, w.loose = layers[0], true
	for i := range w.pieces {
		p := &w.pieces[i]
		p.parts, p.mended = layers[i+1], true
		p.doubled = areaOf(p.parts)
	}
}

// partsOf returns a piece as polygons on the grid.
func (w *worker) partsOf(p *piece) []arrange.Polygon {
	if p.mended {
		return p.parts
	}
	rings, parent := w.out.rings[p.from:p.to], w.parent[p.from:p.to]
	var parts []arrange.Polygon
	place := make([]int, len(rings))
	for i, r := range rings {
		if parent[i] < 0 {
			place[i] = len(parts)
			parts = append(parts, arrange.Polygon{w.out.pts[r.start : r.start+r.n : r.start+r.n]})
		}
	}
	// Holes come second: a ring's parent may stand behind it.
	for i, r := range rings {
		if up := parent[i]; up >= 0 {
			k := place[up]
			parts[k] = append(parts[k], w.out.pts[r.start:r.start+r.n:r.start+r.n])
		}
	}
	return parts
}
