package overlay

import (
	"cmp"
	"slices"

	"rootworthy/internal/geo"
)

// The order of crossings along an edge is exact. t and s are ratios of 64-bit integers, rounded three times, so each
// is off by less than 4e-16 of at most 1: where two differ by more than orderGap their order is known. Closer ones
// are compared as fractions in 256 bits, with the shift of the field taken along:
//
//	t = (N + d.X·ε² - d.Y·ε) / D,  N = cross(a, b, p),  D = N - cross(a, b, q),  d = b-a   for a field edge p→q
//	s = (M + f.Y·ε - f.X·ε²) / E,  M = cross(p, q, a),  E = M - cross(p, q, b),  f = q-p   for a survey edge a→b
//
// Compared power by power: first N/D, then the factors of ε, then those of ε². If all agree the two edges
// that cross the common one run along each other, which the edges of a valid boundary never do.
//
// In this order the boundary of a field enters and leaves a valid polygon in turn, without exception.
const orderGap = 1e-15

// compareAlongField orders crossings by field edge, then by where they lie on it.
func (w *worker) compareAlongField(x, y *crossing) int {
	if x.fe != y.fe {
		return cmp.Compare(x.fe, y.fe)
	}
	if d := x.t - y.t; d > orderGap || d < -orderGap {
		return cmp.Compare(x.t, y.t)
	}
	return compareOnFieldEdge(w.field.pts[x.fe], w.field.pts[x.fe+1], w.soilEdge(x), w.soilEdge(y))
}

// compareAlongSoil orders crossings by survey edge, then by where they lie on it.
func (w *worker) compareAlongSoil(x, y *crossing) int {
	if x.se != y.se {
		return cmp.Compare(x.se, y.se)
	}
	if d := x.s - y.s; d > orderGap || d < -orderGap {
		return cmp.Compare(x.s, y.s)
	}
	a, b := w.soil.at(int(x.se)), w.soil.at(int(x.se)+1)
	f, g := line{w.field.pts[x.fe], w.field.pts[x.fe+1]}, line{w.field.pts[y.fe], w.field.pts[y.fe+1]}
	m1, m2 := geo.Cross(f.a, f.b, a), geo.Cross(g.a, g.b, a)
	e1, e2 := m1.Sub(geo.Cross(f.a, f.b, b)), m2.Sub(geo.Cross(g.a, g.b, b))
	return cmp.Or(
		geo.CompareRatios(m1, e1, m2, e2),
		geo.CompareRatios(geo.Wide(f.b.Y-f.a.Y), e1, geo.Wide(g.b.Y-g.a.Y), e2),
		geo.CompareRatios(geo.Wide(f.a.X-f.b.X), e1, geo.Wide(g.a.X-g.b.X), e2))
}

// line is an edge from a to b.
type line struct{ a, b geo.Pt }

func (w *worker) soilEdge(x *crossing) line {
	return line{w.soil.at(int(x.se)), w.soil.at(int(x.se) + 1)}
}

// compareOnFieldEdge orders the points in which survey edges e and g cross the field edge p→q.
func compareOnFieldEdge(p, q geo.Pt, e, g line) int {
	n1, n2 := geo.Cross(e.a, e.b, p), geo.Cross(g.a, g.b, p)
	d1, d2 := n1.Sub(geo.Cross(e.a, e.b, q)), n2.Sub(geo.Cross(g.a, g.b, q))
	return cmp.Or(
		geo.CompareRatios(n1, d1, n2, d2),
		geo.CompareRatios(geo.Wide(e.a.Y-e.b.Y), d1, geo.Wide(g.a.Y-g.b.Y), d2),
		geo.CompareRatios(geo.Wide(e.b.X-e.a.X), d1, geo.Wide(g.b.X-g.a.X), d2))
}

// fewCrossings is up to where plain insertion beats the library's sort.
const fewCrossings = 24

// sortCrossings brings w.xs into order along the field, and fills w.bySoil with their numbers in order along the
// survey polygon.
func (w *worker) sortCrossings() {
	xs := w.xs
	w.bySoil = w.bySoil[:0]
	if len(xs) > fewCrossings {
		slices.SortFunc(xs, func(x, y crossing) int { return w.compareAlongField(&x, &y) })
		for i := range xs {
			w.bySoil = append(w.bySoil, int32(i))
		}
		slices.SortFunc(w.bySoil, func(i, j int32) int { return w.compareAlongSoil(&xs[i], &xs[j]) })
		return
	}
	for i := 1; i < len(xs); i++ {
		x := xs[i]
		j := i
		for ; j > 0 && w.compareAlongField(&xs[j-1], &x) > 0; j-- {
			xs[j] = xs[j-1]
		}
		xs[j] = x
	}
	for i := range xs {
		w.bySoil = append(w.bySoil, 0)
		j := i
		for ; j > 0 && w.compareAlongSoil(&xs[w.bySoil[j-1]], &xs[i]) > 0; j-- {
			w.bySoil[j] = w.bySoil[j-1]
		}
		w.bySoil[j] = int32(i)
	}
}
