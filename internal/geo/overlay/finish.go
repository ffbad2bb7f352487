package overlay

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
)

// finish turns the pieces found into a Cut.
func (w *worker) finish(number int) Cut {
	w.sortEdgePoints()
	area := w.boundaryArea()
	if w.loose || area.Sign() < 0 { // a field of a few units can be turned inside out by rounding its crossings
		w.fit()
		area = areaOf(w.frame)
	}
	left, rebuilt := area, 0
	for i := range w.pieces {
		left = left.Sub(w.pieces[i].doubled)
		if w.pieces[i].mended {
			rebuilt++
		}
	}
	// What is left is uncovered less doubly covered ground, exactly. Mostly it is zero, and nothing has to be looked for.
	uncovered, covered, gaps, overlaps := w.gaps(left, w.opt.Gaps)
	c := Cut{Field: number, Repair: w.repair, Rebuilt: rebuilt, Area: geo.SquareMetres(area),
		Uncovered: geo.SquareMetres(uncovered), Doubled: geo.SquareMetres(covered)}
	if w.opt.Dissolve {
		w.dissolve()
		c.Doubled = geo.SquareMetres(w.stillDoubled(area, uncovered))
	}
	w.build.reserve(w)
	first := len(w.build.pieces)
	for i := range w.pieces {
		p := &w.pieces[i]
		out := Piece{Field: number, Polygon: int(p.polygon), Key: p.key, Area: geo.SquareMetres(p.doubled)}
		if out.Area < SliverArea && !w.opt.listAll {
			c.Slivers += out.Area
			continue
		}
		if w.opt.Dissolve {
			out.Polygon = -1
		}
		if p.mended {
			out.Shape = w.build.parts(p.parts)
		} else {
			out.Shape = w.build.rings(w.out.pts, w.out.rings[p.from:p.to], w.parent[p.from:p.to], w.least[p.from:p.to])
		}
		if len(out.Shape) == 0 {
			c.Slivers += out.Area
			continue
		}
		w.build.pieces = append(w.build.pieces, out)
	}
	c.Pieces = w.build.pieces[first:len(w.build.pieces):len(w.build.pieces)]
	sortPieces(c.Pieces)
	if w.opt.Boundary {
		c.Boundary = w.boundaryShape()
	}
	if w.opt.Gaps {
		c.Gaps, c.Overlaps = shapeOf(gaps, SliverArea), shapeOf(overlaps, SliverArea)
	}
	return c
}

// sortPieces is plain insertion where there are few, as mostly; their keys decide.
func sortPieces(s []Piece) {
	if len(s) > fewCrossings {
		slices.SortFunc(s, comparePieces)
		return
	}
	for i := 1; i < len(s); i++ {
		for j := i; j > 0 && (s[j].Key < s[j-1].Key || s[j].Key == s[j-1].Key && comparePieces(s[j], s[j-1]) < 0); j-- {
			s[j], s[j-1] = s[j-1], s[j]
		}
	}
}

// comparePieces orders pieces by what they are, not by the order in which their polygons were added.
func comparePieces(a, b Piece) int {
	return cmp.Or(cmp.Compare(a.Key, b.Key), compareShapes(a.Shape, b.Shape), cmp.Compare(a.Polygon, b.Polygon))
}

func compareShapes(a, b orb.MultiPolygon) int {
	return slices.CompareFunc(a, b, func(p, q orb.Polygon) int {
		return slices.CompareFunc(p, q, func(r, s orb.Ring) int {
			return slices.CompareFunc(r, s, func(u, v orb.Point) int {
				return cmp.Or(cmp.Compare(u[0], v[0]), cmp.Compare(u[1], v[1]))
			})
		})
	})
}

// stillDoubled returns by how much the pieces, dissolved, count ground more than once: where polygons of one key lie
// upon each other, their piece counts it once. Rounding of lines that had to be noded may leave less than nothing.
func (w *worker) stillDoubled(area, uncovered geo.Int128) geo.Int128 {
	covered := uncovered.Sub(area)
	for i := range w.pieces {
		covered = covered.Add(w.pieces[i].doubled)
	}
	if covered.Sign() < 0 {
		return geo.Int128{}
	}
	return covered
}
