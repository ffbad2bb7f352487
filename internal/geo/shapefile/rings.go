package shapefile

import (
	"encoding/binary"
	"fmt"
	"iter"
)

// Rings are the rings of one record as they are stored: x and y in turn, each ring closed by repeating its first
// point if the writer kept the rules. Outer rings should run clockwise and holes counter-clockwise, but files lie.
type Rings struct {
	XY   []float64 // x0, y0, x1, y1, … of all rings, in units of the projection
	Ends []int32   // Ends[i] is the number of points in the rings 0…i together
}

// Len returns how many rings there are.
func (r *Rings) Len() int { return len(r.Ends) }

// Ring returns the coordinates of ring i, x and y in turn, as part of XY.
func (r *Rings) Ring(i int) []float64 {
	var from int32
	if i > 0 {
		from = r.Ends[i-1]
	}
	return r.XY[2*from : 2*r.Ends[i]]
}

// All yields each ring with its place.
func (r *Rings) All() iter.Seq2[int, []float64] {
	return func(yield func(int, []float64) bool) {
		for i := range r.Ends {
			if !yield(i, r.Ring(i)) {
				return
			}
		}
	}
}

func (r *Rings) reset() { r.XY, r.Ends = r.XY[:0], r.Ends[:0] }

// Fixed part of a polygon record: type, box, number of parts, number of points.
// Source: Esri Shapefile Technical Description, July 1998, page 8; types 15 and 25 begin alike (pages 13, 20).
const polygonHead = 4 + 32 + 4 + 4

// parse reads the content of one record; a null shape has no rings. Heights and measures are passed over. The error
// says what is wrong with the record, without its place.
func (r *Rings) parse(b []byte) error {
	// Each record has its own type, though all but null ones should be that of the header.
	kind := int32(binary.LittleEndian.Uint32(b)) // records have at least 4 bytes
	switch kind {
	case shapeNull:
		return nil
	case shapePolygon, shapePolygonZ, shapePolygonM:
	default:
		return fmt.Errorf("shape type %d in a layer of polygons", kind)
	}
	if len(b) < polygonHead {
		return fmt.Errorf("a polygon of %d bytes is too short", len(b))
	}
	parts := int64(int32(binary.LittleEndian.Uint32(b[36:])))
	points := int64(int32(binary.LittleEndian.Uint32(b[40:])))
	// In 64 bits: the sum could not hold in 32 what a damaged count says.
	if parts < 0 || points < 0 || polygonHead+4*parts+16*points > int64(len(b)) {
		return fmt.Errorf("%d parts with %d points do not fit its %d bytes", parts, points, len(b))
	}
	return r.fill(b[polygonHead:], int(parts), int(points))
}

// fill takes the list of parts and the points, which are known to be there.
func (r *Rings) fill(b []byte, parts, points int) error {
	for i := range parts {
		start := int32(binary.LittleEndian.Uint32(b[4*i:]))
		// A part may begin where the one before it begins (an empty ring, which some writers leave), never before it.
		if i == 0 && start != 0 || i > 0 && start < 0 || int(start) > points {
			return fmt.Errorf("part %d begins at point %d of %d", i+1, start, points)
		}
		if i == 0 {
			continue
		}
		// Ends holds ends, the file holds starts: the start of a part is the end of the one before, hence two places
		// back.
		if i > 1 && start < r.Ends[i-2] {
			return fmt.Errorf("part %d begins before part %d", i+1, i)
		}
		r.Ends = append(r.Ends, start)
	}
	if parts > 0 {
		r.Ends = append(r.Ends, int32(points))
	}
	b = b[4*parts:]
	// The bytes of the points are in memory already (parse checked the length), so this asks for no more than was read.
	if need := 2 * points; cap(r.XY) < need {
		r.XY = make([]float64, 0, need)
	}
	r.XY = r.XY[:2*points]
	for i := range r.XY {
		r.XY[i] = float(b[8*i:])
	}
	// Told after the points were taken, because next throws the rings of a damaged record away as a whole.
	if parts == 0 && points > 0 {
		return fmt.Errorf("%d points belong to no part", points)
	}
	return nil
}
