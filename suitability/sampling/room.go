package sampling

import (
	"math"

	"github.com/paulmach/orb"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// room is where cores may be taken in a zone: points of a lattice, south to north, in metres of the field's frame.
type room struct {
	frame  frame
	points []orb.Point
	inside unit.Length // how far from the zone's own line they keep
}

// wanted is how many points are looked for: enough to spread cores well.
const wanted = 900

// insides are the distances from the zone's own line that are tried in turn: soils change gradually and receivers err, so
// cores keep off the line where there is room.
// Source: proposal; a receiver without correction errs by some 3 to 5 m (common practice, no source).
func insides() []float64 { return []float64{10, 5, 2, 0.5} }

// leastLattice is the finest lattice in metres; ground that has no point of it free is no place to walk with a probe.
const leastLattice = 1.0

// roomIn looks for at least need points in a zone that are clear of the field's edge; nil where there are not as many.
func roomIn(f *suitability.Field, z *suitability.Zone, clear unit.Length, need int) *room {
	if len(z.Shape) == 0 || len(f.Shape) == 0 {
		return nil
	}
	box := z.Shape.Bound()
	m := frameAt(f.Shape.Bound().Center())
	// the zone's own line is no edge of the field: cores keep off it as far as they can, not by the set-back
	zone, field := m.edges(z.Shape), m.edges(f.Shape)
	low, high := m.in(box.Min), m.in(box.Max)
	// 50 m at most: on a section of land a coarser lattice would miss the arms of a zone.
	spacing := min(max(math.Sqrt(float64(z.Area)/wanted), leastLattice), 50)
	for {
		free := lattice(low, high, spacing, func(p orb.Point) bool {
			return zone.holds(p) && field.holds(p) && field.clear(p, float64(clear)+0.02) // and what rounding to 1e-7 degree may move
		})
		if len(free) >= need {
			return m.keepOff(free, zone, need)
		}
		if spacing <= leastLattice {
			return nil
		}
		// Narrow ground may lie between the points; half the spacing finds it or, at a metre, shows that there is none.
		spacing = max(spacing/2, leastLattice)
	}
}

// keepOff takes the points that keep off the zone's line the farthest, as long as there are enough.
func (m frame) keepOff(free []orb.Point, zone edges, need int) *room {
	for _, d := range insides() {
		// from the farthest on, so the first that is enough is the best
		r := &room{frame: m, inside: unit.Length(d)}
		for _, p := range free {
			if zone.clear(p, d) {
				r.points = append(r.points, p)
			}
		}
		// A quarter of the zone at least: farther from its line only its middle would be left to speak for it.
		if len(r.points) >= need && len(r.points) >= len(free)/4 {
			return r
		}
	}
	return nil
}

// mostLattice bounds the points of a lattice that are looked at, whatever shape asks for.
const mostLattice = 400000

// lattice lists the points of a lattice that fit, row by row.
func lattice(low, high orb.Point, spacing float64, fits func(orb.Point) bool) (out []orb.Point) {
	rows, columns := int((high[1]-low[1])/spacing)+1, int((high[0]-low[0])/spacing)+1
	// Divided, not multiplied: the product of two large counts would run over. nil looks like no room; what is as long and thin as that
	// has none
	if rows > mostLattice/columns {
		return nil
	}
	for y := range rows {
		for x := range columns {
			// in the middle of its cell, so that narrow ground is hit
			p := orb.Point{low[0] + (float64(x)+0.5)*spacing, low[1] + (float64(y)+0.5)*spacing}
			if fits(p) {
				out = append(out, p)
			}
		}
	}
	return out
}
