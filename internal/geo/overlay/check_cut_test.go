package overlay

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// checkCut tests what every Cut promises: sums, validity by an independent test, order, direction.
func checkCut(t testing.TB, c Cut) {
	t.Helper()
	sum := c.Slivers
	for i, p := range c.Pieces {
		sum += p.Area
		checkShape(t, p.Shape)
		if a := shapeArea(p.Shape); math.Abs(a-p.Area) > 1e-9*p.Area+1e-6 {
			t.Errorf("field %d: piece of polygon %d claims %v m² and has %v", c.Field, p.Polygon, p.Area, a)
		}
		if i > 0 && comparePieces(c.Pieces[i-1], p) >= 0 {
			t.Errorf("field %d: pieces out of order", c.Field)
		}
	}
	// A field of a few units may have no area left once its edges are rounded, and pieces all the same: what is doubled
	// counts for the tolerance too.
	if math.Abs(sum+c.Uncovered-c.Doubled-c.Area) > 1e-9*(c.Area+c.Doubled) {
		t.Errorf("field %d: pieces %v + uncovered %v - doubled %v is not %v", c.Field, sum, c.Uncovered, c.Doubled, c.Area)
	}
	if c.Uncovered < 0 || c.Doubled < 0 {
		t.Errorf("field %d: uncovered %v, doubled %v", c.Field, c.Uncovered, c.Doubled)
	}
	for _, s := range []orb.MultiPolygon{c.Boundary, c.Gaps, c.Overlaps} {
		if len(s) > 0 {
			checkShape(t, s)
		}
	}
}

// checkShape tests a shape for OGC validity with the exact test of another package, and for direction and order.
func checkShape(t testing.TB, shape orb.MultiPolygon) {
	t.Helper()
	var parts []arrange.Polygon
	for _, part := range shape {
		var poly arrange.Polygon
		for k, ring := range part {
			var pts []geo.Pt
			for _, p := range ring[:len(ring)-1] {
				pts = append(pts, geo.Pt{X: snapFast(p[0]), Y: snapFast(p[1])})
			}
			if ring[0] != ring[len(ring)-1] {
				t.Errorf("ring %d is not closed", k)
			}
			if least(pts) != 0 {
				t.Errorf("ring %d does not begin with its least point", k)
			}
			poly = append(poly, pts)
		}
		parts = append(parts, poly)
	}
	if f := arrange.CheckAll(parts); !f.OK() {
		t.Errorf("shape is not valid: %+v\n%v", f, shape)
	}
}

func shapeArea(shape orb.MultiPolygon) float64 {
	var sum geo.Int128
	for _, part := range shape {
		for _, ring := range part {
			var pts []geo.Pt
			for _, p := range ring {
				pts = append(pts, geo.Pt{X: snapFast(p[0]), Y: snapFast(p[1])})
			}
			sum = sum.Add(geo.DoubledArea(pts))
		}
	}
	return geo.SquareMetres(sum)
}

// least returns the number of the least point.
func least(pts []geo.Pt) int {
	k := 0
	for i := range pts {
		if pts[i].Less(pts[k]) {
			k = i
		}
	}
	return k
}
