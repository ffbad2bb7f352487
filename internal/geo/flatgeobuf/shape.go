package flatgeobuf

import (
	"encoding/binary"

	"github.com/paulmach/orb"
)

// shaper gathers the polygons of one geometry. Offsets may lead to the same points again and again, so points and parts
// are bounded by what the bytes of the feature have room for.
// flattened says that there were heights or measures.
type shaper struct {
	points, parts int // still to be given out

	shape     orb.MultiPolygon
	other     string // first kind that is no polygon
	damage    string
	flattened bool
}

// maxNested bounds collections inside one another.
const maxNested = 16

// add takes a geometry; kind is what it must be, unknown when it says itself. It returns false when it is damaged.
// Layers of one kind say it in their header and may leave it out of their features.
func (s *shaper) add(g table, kind geometryKind, depth int) bool {
	if s.parts--; s.parts < 0 || depth > maxNested {
		s.damage = "its parts are nested too deep, or repeat themselves"
		return false
	}
	if kind == kindUnknown {
		kind = geometryKind(g.byte(geometryType, 0))
	}
	switch kind {
	case kindPolygon:
		return s.polygon(g)
	// Its parts are polygons and need not say so.
	case kindMultiPolygon:
		return s.inside(g, kindPolygon, depth)
	case kindCollection:
		return s.inside(g, kindUnknown, depth)
	}
	if s.other == "" {
		s.other = kind.String()
	}
	return true
}

// inside takes the parts of a geometry; kind is what each must be.
func (s *shaper) inside(g table, kind geometryKind, depth int) bool {
	ok := g.tables(geometryParts, func(part table) bool { return s.add(part, kind, depth+1) })
	if !ok && s.damage == "" {
		s.damage = "its list of parts is damaged"
	}
	return ok
}

// polygon takes the rings of one polygon: all their points in one list, and where each ring ends in a second one, which
// may be missing when there is one ring.
func (s *shaper) polygon(g table) bool {
	xy, _ := g.vector(geometryXY, 8)
	ends, _ := g.vector(geometryEnds, 4)
	// Two doubles a point.
	n := len(xy) / 16
	if s.points -= n; s.points < 0 {
		s.damage = "its points repeat themselves"
		return false
	}
	if z, _ := g.vector(geometryZ, 8); len(z) > 0 {
		s.flattened = true
	}
	if m, _ := g.vector(geometryM, 8); len(m) > 0 {
		s.flattened = true
	}
	// An empty polygon is none, and no damage.
	if n == 0 {
		return true
	}
	if len(ends) == 0 {
		ends = binary.LittleEndian.AppendUint32(nil, uint32(n))
	}
	var part orb.Polygon
	from := 0
	for ; len(ends) > 0; ends = ends[4:] {
		// In points, not in numbers.
		to := int(binary.LittleEndian.Uint32(ends))
		if to < from || to > n {
			s.damage = "its rings end where it has no points"
			return false
		}
		ring := make(orb.Ring, to-from)
		for i := range ring {
			b := xy[16*(from+i):]
			ring[i] = orb.Point{float(b), float(b[8:])}
		}
		part = append(part, ring)
		from = to
	}
	s.shape = append(s.shape, part)
	return true
}
