package taskdata

import (
	"math"

	"github.com/paulmach/orb"

	"rootworthy/soils/unit"
)

// strip is the headland: cells whose middle lies near the boundary.
type strip struct {
	columns int
	bits    []uint64
	rate    int32 // mg/m²
}

// has says whether a cell is headland.
func (s *strip) has(row, column int) bool {
	i := row*s.columns + column
	return s.bits[i/64]>>(i%64)&1 != 0
}

// layHeadland marks the headland and gives it its rate: the mean of what its ground asks for, or nothing.
// Holes of the boundary have a strip too: a spreader has to go round them.
func (t *Task) layHeadland(m Machine) {
	if m.Headland <= 0 {
		return
	}
	// A bit for each cell of the frame, rounded up to whole words of 64.
	s := &strip{columns: t.Frame.Columns, bits: make([]uint64, (t.Frame.Rows*t.Frame.Columns+63)/64)}
	for _, polygon := range t.Boundary {
		for _, ring := range polygon {
			for k := 1; k < len(ring); k++ {
				s.mark(t.Frame, ring[k-1], ring[k], float64(m.Headland))
			}
		}
	}
	// Of the ground as it lies in the cells, so that the strip puts on what those cells would have.
	if m.Edge == HeadlandMean {
		s.rate = t.meanOf(s)
	}
	t.headland = s
	// Counted again, since the strip changed what cells hold.
	t.Spread = t.mass()
}

// mark marks the cells within reach metres of an edge.
// A cell that is near two edges is marked twice, which does no harm.
func (s *strip) mark(f Frame, a, b orb.Point, reach float64) {
	// The strip is narrow against the Earth, so metres may be straight there.
	north, east := degreeLengths((a[1] + b[1]) / 2)
	low := clampRow(f, min(a[1], b[1])-reach/north)
	high := clampRow(f, max(a[1], b[1])+reach/north)
	for row := low; row <= high; row++ {
		y := f.RowLatitude(row)
		from, to, ok := near(a, b, y, reach, north, east)
		if !ok {
			continue
		}
		for c, end := f.firstColumn(from), f.firstColumn(to); c < end; c++ {
			i := row*s.columns + c
			s.bits[i/64] |= 1 << (i % 64)
		}
	}
}

// clampRow is the row of a latitude, or the nearest row that there is.
func clampRow(f Frame, latitude float64) int {
	r := math.Floor((latitude*nano - float64(f.South)) / float64(f.North))
	return int(min(max(r, 0), float64(f.Rows-1)))
}

// near returns the longitudes between which a line of latitude y runs within reach metres of the edge a-b. The ground
// near an edge is a capsule, which is convex, so there is one such stretch: the hull of those of its two round ends and
// of the band between them.
func near(a, b orb.Point, y, reach, north, east float64) (from, to float64, ok bool) {
	from, to = math.Inf(1), math.Inf(-1)
	add := func(x float64) { from, to = min(from, x), max(to, x) }
	for _, p := range []orb.Point{a, b} {
		if dy := (y - p[1]) * north; math.Abs(dy) <= reach {
			w := math.Sqrt(reach*reach-dy*dy) / east
			add(p[0] - w)
			add(p[0] + w)
		}
	}
	dx, dy := (b[0]-a[0])*east, (b[1]-a[1])*north
	long := math.Hypot(dx, dy)
	if long > 0 && dy != 0 {
		for _, side := range []float64{-reach, reach} { // the two lines beside the edge
			ox, oy := -dy/long*side, dx/long*side
			if t := ((y-a[1])*north - oy) / dy; t >= 0 && t <= 1 {
				add(a[0] + (t*dx+ox)/east)
			}
		}
	}
	return from, to, from <= to
}

// meanOf returns the rate that puts as much on the headland as its ground asks for.
func (t *Task) meanOf(s *strip) int32 {
	scan, on := newScan(t.Frame, t.shapes()), make([]int32, t.Frame.Columns)
	var mass, area float64
	for row := range t.Frame.Rows {
		scan.row(row, on)
		cell := t.Frame.CellArea(row)
		for c, g := range on {
			// Ground that nobody rated gets no lime in the strip either.
			if g >= 0 && s.has(row, c) && !t.grounds[g].barred {
				mass += float64(t.grounds[g].rate) * cell
				area += cell
			}
		}
	}
	if area == 0 {
		return 0
	}
	return milligrams(unit.AreaRate(mass / area / 1e6))
}
