package overlay

import (
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// builder turns rings on the grid into shapes in metres, in an order that depends on nothing but their geometry:
// rings begin with their least point, holes and parts are in the order of their first points. All shapes of a field
// are cut from the same few slices.
type builder struct {
	points []orb.Point
	ringsN []orb.Ring
	partsN []orb.Polygon
	pieces []Piece
	order  []ringStart
}

// ringStart is a ring and where its least point is.
type ringStart struct {
	ring  int32
	least int32
	outer int32 // its outer ring, or itself
	at    geo.Pt
	first geo.Pt // least point of the outer ring
}

// reserve makes room for all pieces of the field that are not mended.
func (b *builder) reserve(w *worker) {
	points, rings, parts := 0, 0, 0
	for i := range w.pieces {
		if p := &w.pieces[i]; !p.mended {
			for k := p.from; k < p.to; k++ {
				points += int(w.out.rings[k].n) + 1
				if w.parent[k] < 0 {
					parts++
				}
			}
			rings += int(p.to - p.from)
		}
	}
	b.points = room(b.points, points, w.opt.Reuse)
	b.ringsN = room(b.ringsN, rings, w.opt.Reuse)
	b.partsN = room(b.partsN, parts, w.opt.Reuse)
	b.pieces = room(b.pieces, len(w.pieces), w.opt.Reuse)
}

// room returns a slice with room for n more. What is to be used again comes in larger blocks; what is given away, to
// measure.
func room[T any](s []T, n int, reuse bool) []T {
	switch {
	case !reuse:
		return make([]T, 0, n)
	case cap(s)-len(s) < n:
		return make([]T, 0, max(n, 2*cap(s)))
	}
	return s
}

// recycle makes all memory handed out free again.
func (b *builder) recycle() {
	b.points, b.ringsN, b.partsN, b.pieces = b.points[:0], b.ringsN[:0], b.partsN[:0], b.pieces[:0]
}

// rings builds the shape of one piece. parent is -1 for outer rings, else the number of a hole's outer ring; leasts
// says where the least point of each ring is.
func (b *builder) rings(pts []geo.Pt, rings []span, parent, leasts []int32) orb.MultiPolygon {
	b.order = b.order[:0]
	for i, r := range rings {
		b.order = append(b.order, ringStart{ring: int32(i), least: leasts[i], outer: int32(i), at: pts[r.start+leasts[i]]})
	}
	for i := range b.order {
		o := &b.order[i]
		if parent[i] >= 0 {
			o.outer = parent[i]
		}
		o.first = b.order[o.outer].at
	}
	if len(b.order) > 1 {
		slices.SortFunc(b.order, compareStarts)
	}
	firstPart := len(b.partsN)
	for i := 0; i < len(b.order); {
		firstRing := len(b.ringsN)
		outer := b.order[i].outer
		for ; i < len(b.order) && b.order[i].outer == outer; i++ {
			o := &b.order[i]
			r := rings[o.ring]
			b.ringsN = append(b.ringsN, b.ring(pts[r.start:r.start+r.n], int(o.least)))
		}
		b.partsN = append(b.partsN, orb.Polygon(b.ringsN[firstRing:len(b.ringsN):len(b.ringsN)]))
	}
	return orb.MultiPolygon(b.partsN[firstPart:len(b.partsN):len(b.partsN)])
}

// compareStarts puts parts in order, and in each part the outer ring before its holes. A hole's least point lies beyond
// its outer ring's, so comparing points suffices. No two rings of one piece share their least points.
func compareStarts(a, b ringStart) int {
	if c := a.first.Compare(b.first); c != 0 {
		return c
	}
	return a.at.Compare(b.at)
}

// ring appends a ring, begun at point k, and closes it.
func (b *builder) ring(pts []geo.Pt, k int) orb.Ring {
	first := len(b.points)
	b.points = b.points[:first+len(pts)+1]
	ring := b.points[first:len(b.points):len(b.points)]
	for i, p := range pts[k:] {
		ring[i] = orb.Point{toMetres(p.X), toMetres(p.Y)}
	}
	rest := ring[len(pts)-k:]
	for i, p := range pts[:k+1] {
		rest[i] = orb.Point{toMetres(p.X), toMetres(p.Y)}
	}
	return orb.Ring(ring)
}

func (b *builder) parts(parts []arrange.Polygon) orb.MultiPolygon { return shapeOf(parts, 0) }

// shapeOf turns polygons on the grid, which are in canonical order, into metres. Parts of less than smallest m² are
// left out.
func shapeOf(parts []arrange.Polygon, smallest float64) orb.MultiPolygon {
	var shape orb.MultiPolygon
	for _, part := range parts {
		if smallest > 0 && geo.SquareMetres(areaOf([]arrange.Polygon{part})) < smallest {
			continue
		}
		poly := make(orb.Polygon, 0, len(part))
		for _, pts := range part {
			ring := make(orb.Ring, 0, len(pts)+1)
			for _, p := range pts {
				ring = append(ring, orb.Point{toMetres(p.X), toMetres(p.Y)})
			}
			poly = append(poly, append(ring, ring[0]))
		}
		shape = append(shape, poly)
	}
	return shape
}
