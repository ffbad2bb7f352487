package overlay

import (
	"math/rand/v2"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// metres turns polygons on the grid into what Add and Run take. Rings begin anywhere in input, so a start may be given.
func metres(parts []arrange.Polygon) orb.MultiPolygon { return shapeOf(parts, 0) }

// polyominoes cuts a square of side cells·step at the origin into colours of unit cells at random: sets with
// holes, pinches and several parts. owner says which set a cell belongs to.
func polyominoes(rnd *rand.Rand, cells int, step int64, colours int) (sets [][]arrange.Polygon, owner [][]int) {
	owner = make([][]int, cells)
	rings := make([][][]geo.Pt, colours)
	for i := range owner {
		owner[i] = make([]int, cells)
		for j := range owner[i] {
			c := rnd.IntN(colours)
			if i > 0 && rnd.IntN(3) > 0 { // clumps are likelier to have long common boundaries
				c = owner[i-1][j]
			}
			owner[i][j] = c
			x, y := int64(i)*step, int64(j)*step
			rings[c] = append(rings[c], []geo.Pt{{X: x, Y: y}, {X: x + step, Y: y}, {X: x + step, Y: y + step}, {X: x, Y: y + step}})
		}
	}
	for _, r := range rings {
		sets = append(sets, arrange.Assemble(r))
	}
	return sets, owner
}

// triangles cuts the square 0…side into triangles with corners on a lattice of the given step, at random.
func triangles(rnd *rand.Rand, side, step int64, splits int) (sets [][]arrange.Polygon) {
	a, b, c, d := geo.Pt{}, geo.Pt{X: side}, geo.Pt{X: side, Y: side}, geo.Pt{Y: side}
	tri := [][3]geo.Pt{{a, b, c}, {a, c, d}}
	if rnd.IntN(2) == 0 {
		tri = [][3]geo.Pt{{a, b, d}, {b, c, d}}
	}
	for range splits {
		k := rnd.IntN(len(tri))
		p := geo.Pt{X: rnd.Int64N(side/step+1) * step, Y: rnd.Int64N(side/step+1) * step}
		t := tri[k]
		if geo.Orient(t[0], t[1], p) > 0 && geo.Orient(t[1], t[2], p) > 0 && geo.Orient(t[2], t[0], p) > 0 {
			tri[k] = [3]geo.Pt{t[0], t[1], p}
			tri = append(tri, [3]geo.Pt{t[1], t[2], p}, [3]geo.Pt{t[2], t[0], p})
		}
	}
	for _, t := range tri {
		sets = append(sets, arrange.Assemble([][]geo.Pt{t[:]}))
	}
	return sets
}

// star is a ring around a centre with random radii: simple, neither convex nor on any lattice.
func star(rnd *rand.Rand, centre geo.Pt, radius float64, corners int) []geo.Pt {
	ring := make([]geo.Pt, 0, corners)
	for i := range corners {
		r := radius * (0.3 + 0.7*rnd.Float64())
		x, y := unitCircle(float64(i) / float64(corners))
		ring = append(ring, geo.Pt{X: centre.X + int64(r*x), Y: centre.Y + int64(r*y)})
	}
	return ring
}

// scribble is any ring at all on a lattice: it crosses itself, runs back, and touches as it likes.
func scribble(rnd *rand.Rand, side, step int64, corners int) []geo.Pt {
	ring := make([]geo.Pt, corners)
	for i := range ring {
		ring[i] = geo.Pt{X: rnd.Int64N(side/step+1) * step, Y: rnd.Int64N(side/step+1) * step}
	}
	return ring
}

func shift(parts []arrange.Polygon, by geo.Pt) []arrange.Polygon {
	var out []arrange.Polygon
	for _, part := range parts {
		var q arrange.Polygon
		for _, ring := range part {
			var r []geo.Pt
			for _, p := range ring {
				r = append(r, geo.Pt{X: p.X + by.X, Y: p.Y + by.Y})
			}
			q = append(q, r)
		}
		out = append(out, q)
	}
	return out
}

// turned begins every ring at another point.
func turned(rnd *rand.Rand, m orb.MultiPolygon) orb.MultiPolygon {
	m = m.Clone()
	for _, part := range m {
		for i, ring := range part {
			k := rnd.IntN(len(ring) - 1)
			r := append(append(orb.Ring{}, ring[k:len(ring)-1]...), ring[:k]...)
			part[i] = append(r, r[0])
		}
	}
	return m
}
