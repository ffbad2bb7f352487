package overlay

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// edgePoint is a point that a survey line puts on a field edge.
type edgePoint struct {
	fe int32
	of int32 // where in worker.onEdge the rest is, while sorting
	t  float64
}

// edgeLine is the rest of it, kept apart so that sorting moves 16 bytes a point and not 64.
type edgeLine struct {
	at geo.Pt
	by line // the survey edge
}

// keepCrossings notes where the polygon just cut crosses the field's edges.
func (w *worker) keepCrossings() {
	for i := range w.xs {
		x := &w.xs[i]
		w.onEdge = append(w.onEdge, edgePoint{x.fe, int32(len(w.onLine)), x.t})
		w.onLine = append(w.onLine, edgeLine{x.at, w.soilEdge(x)})
	}
}

// sortEdgePoints puts the points of all polygons in order along the field: exactly, so that each stretch between two of
// them is the same one that a piece has. Most fields have so few that plain insertion is quicker; points that are not
// far apart on their edge are rare.
func (w *worker) sortEdgePoints() {
	s := w.onEdge
	if len(s) > fewCrossings {
		slices.SortFunc(s, func(x, y edgePoint) int { return w.compareEdgePoints(&x, &y) })
		return
	}
	for i := 1; i < len(s); i++ {
		x := s[i]
		j := i
		for ; j > 0; j-- {
			y := &s[j-1]
			if y.fe < x.fe || y.fe == x.fe && (x.t-y.t > orderGap || x.t-y.t >= -orderGap && w.compareEdgePoints(y, &x) <= 0) {
				break
			}
			s[j] = *y
		}
		s[j] = x
	}
}

// compareEdgePoints orders points by field edge, then by where they lie on it.
func (w *worker) compareEdgePoints(x, y *edgePoint) int {
	if x.fe != y.fe {
		return int(x.fe) - int(y.fe)
	}
	if d := x.t - y.t; d > orderGap || d < -orderGap {
		return cmp.Compare(x.t, y.t)
	}
	e, g := w.onLine[x.of].by, w.onLine[y.of].by
	if e.a == g.b && e.b == g.a || e == g {
		return 0 // the common line of two neighbours
	}
	return compareOnFieldEdge(w.field.pts[x.fe], w.field.pts[x.fe+1], e, g)
}

// boundaryArea returns twice the area of the field with these points in its edges. Each edge p→q that becomes
// p→x→…→q changes it by the area between the two. In a covered field it is the sum of the pieces, to the last unit.
func (w *worker) boundaryArea() geo.Int128 {
	if w.field.wide {
		var sum geo.Int128
		var o outline
		w.boundary(&o)
		for _, r := range o.rings {
			sum = sum.Add(geo.DoubledArea(o.pts[r.start : r.start+r.n+1]))
		}
		return sum
	}
	var change int64 // wraps, and is exact all the same: see figure.end
	for i := 0; i < len(w.onEdge); {
		fe := w.onEdge[i].fe
		p, q := w.field.pts[fe], w.field.pts[fe+1]
		last := p
		for ; i < len(w.onEdge) && w.onEdge[i].fe == fe; i++ {
			at := w.onLine[w.onEdge[i].of].at
			change += last.X*at.Y - at.X*last.Y
			last = at
		}
		change += last.X*q.Y - q.X*last.Y - (p.X*q.Y - q.X*p.Y)
	}
	return w.field.area.Add(geo.Wide(change))
}

// boundary makes o the field's rings with these points in their edges.
func (w *worker) boundary(o *outline) {
	o.pts, o.rings = o.pts[:0], o.rings[:0]
	k := 0
	for _, r := range w.field.rings {
		start := len(o.pts)
		for fe := r.start; fe < r.start+r.n; fe++ {
			o.push(start, w.field.pts[fe])
			for ; k < len(w.onEdge) && w.onEdge[k].fe == fe; k++ {
				o.push(start, w.onLine[w.onEdge[k].of].at)
			}
		}
		o.close(start)
	}
}

// boundaryParts returns the field with these points as valid polygons.
func (w *worker) boundaryParts() []arrange.Polygon {
	if w.frame != nil {
		return w.frame
	}
	var o outline
	w.boundary(&o)
	return arrange.Assemble(o.open(0))
}

// boundaryShape returns the same in metres. Nearly always the rings are valid as they are.
func (w *worker) boundaryShape() orb.MultiPolygon {
	if w.frame != nil {
		return shapeOf(w.frame, 0)
	}
	o, k := &w.rest.border, &w.check
	w.boundary(o)
	if k.check(o.pts, o.rings, w.field.wide) != clean {
		return shapeOf(w.boundaryParts(), 0)
	}
	b := &builder{}
	leasts := make([]int32, len(o.rings))
	for i := range o.rings {
		leasts[i] = k.least(i)
		if k.areas[i].Sign() > 0 {
			k.parent[i] = -1
		}
	}
	b.points = make([]orb.Point, 0, len(o.pts))
	b.ringsN = make([]orb.Ring, 0, len(o.rings))
	return b.rings(o.pts, o.rings, k.parent, leasts)
}
