package mapdraw

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"

	"rootworthy/internal/geo/arrange"
)

// thinStep is the grid on which lines are thinned, in units of the sheet: a fiftieth of a pixel.
const thinStep = 0.02

// thinnedAlone drops corners that nobody would see, ring by ring: on a map of hundreds of fields two neighbours then part
// by less than the line between them is wide, and it takes a tenth of the time. A ring that would vanish stays as it was.
func thinnedAlone(shapes []orb.MultiPolygon, tolerance float64) [][]part {
	out := make([][]part, len(shapes))
	for i, mp := range shapes {
		for _, p := range mp {
			for j, r := range p {
				const least = 4 // a triangle, its first corner twice
				if thin := simplify.DouglasPeucker(tolerance).Ring(r.Clone()); len(thin) >= least {
					p[j] = thin
				}
			}
		}
		out[i] = partsOf(mp)
	}
	return out
}

// thinned drops corners that nobody would see, alike in all shapes that share them: an edge between two zones is one
// line used by both. A shape that cannot be thinned (nothing is known to do that) is drawn as it is.
func thinned(shapes []orb.MultiPolygon, tolerance float64) [][]part {
	layers := make([][]arrange.Polygon, len(shapes))
	ok := true
	for i, s := range shapes {
		var fine bool
		layers[i], fine = arrange.FromOrb(s, thinStep)
		// One that cannot be put on the grid leaves all as they are: thinned apart, shared lines would part.
		ok = ok && fine
	}
	if ok {
		layers = arrange.Simplify(layers, tolerance/thinStep)
	}
	out := make([][]part, len(shapes))
	for i := range shapes {
		if ok {
			out[i] = partsOf(arrange.ToOrb(layers[i], thinStep))
		} else {
			out[i] = partsOf(shapes[i])
		}
	}
	return out
}

// part is one polygon on the sheet, outer ring first; rings do not repeat their first point.
type part [][]Point

// partsOf turns shapes whose y is up into parts whose y is down.
func partsOf(mp orb.MultiPolygon) []part {
	out := make([]part, 0, len(mp))
	for _, p := range mp {
		// The lines of the sheet go down where latitudes go up.
		rings := make(part, 0, len(p))
		for _, r := range p {
			ring := make([]Point, 0, len(r))
			for _, q := range r[:max(0, len(r)-1)] {
				ring = append(ring, Point{q[0], -q[1]})
			}
			rings = append(rings, ring)
		}
		out = append(out, rings)
	}
	return out
}

// rings returns all rings of several parts.
func rings(parts []part) [][]Point {
	var out [][]Point
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

// area returns the area of a part in units².
// Whichever way its rings run: the first counts, the others are holes and are taken off.
func (p part) area() float64 {
	sum := 0.0
	for i, r := range p {
		twice := 0.0
		for k, a := range r {
			b := r[(k+1)%len(r)]
			twice += a.X*b.Y - b.X*a.Y
		}
		if twice < 0 {
			twice = -twice
		}
		if i > 0 {
			twice = -twice
		}
		sum += twice / 2
	}
	return sum
}
