package taskdata

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// scan finds, row by row, which ground the middle of each cell lies on. It keeps the edges that a row crosses and
// nothing of the grid, so a million cells cost no memory and every edge is looked at only in the rows it crosses.
//
// Every edge runs from its lower end to its upper one and counts from the lower up to, not including, the upper. Two
// neighbours compute the crossing of a shared edge from the same numbers, so no cell falls between them or to both.
type scan struct {
	frame  Frame
	edges  []scanEdge // by lower end
	next   int        // first edge that no row has reached
	active []scanEdge
	hits   []crossing
}

// scanEdge is an edge of a shape, its lower end first; level ones are of no use to a scan by rows.
type scanEdge struct {
	x0, y0, x1, y1 float64 // y0 < y1
	ground         int32
}

// crossing is where an edge meets the row being scanned.
type crossing struct {
	x      float64
	ground int32
}

// newScan makes a scan over shapes; a cell belongs to the first shape that holds its middle.
func newScan(f Frame, shapes []orb.MultiPolygon) *scan {
	s := &scan{frame: f}
	low, high := f.RowLatitude(0), f.RowLatitude(f.Rows-1)
	for i, mp := range shapes {
		for _, polygon := range mp {
			for _, ring := range polygon {
				s.addRing(ring, int32(i), low, high)
			}
		}
	}
	// By their lower ends, so that each row takes up the edges that begin below it and looks at no others.
	slices.SortFunc(s.edges, func(a, b scanEdge) int { return cmp.Compare(a.y0, b.y0) })
	return s
}

// addRing adds the edges that a row between low and high may cross.
func (s *scan) addRing(ring orb.Ring, ground int32, low, high float64) {
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		if a[1] > b[1] {
			a, b = b, a
		}
		if a[1] < b[1] && b[1] > low && a[1] <= high {
			s.edges = append(s.edges, scanEdge{a[0], a[1], b[0], b[1], ground})
		}
	}
}

// row fills out with the ground of each cell of a row, -1 for none. Rows must be asked for from south to north.
// Rows may be left out.
func (s *scan) row(row int, out []int32) {
	y := s.frame.RowLatitude(row)
	for ; s.next < len(s.edges) && s.edges[s.next].y0 <= y; s.next++ {
		s.active = append(s.active, s.edges[s.next])
	}
	s.hits = s.hits[:0]
	kept := s.active[:0]
	for _, e := range s.active {
		// An edge holds its lower end and not its upper one, so a corner where two edges meet is crossed once.
		if e.y1 <= y {
			continue
		}
		kept = append(kept, e)
		s.hits = append(s.hits, crossing{e.x0 + (e.x1-e.x0)*((y-e.y0)/(e.y1-e.y0)), e.ground})
	}
	s.active = kept
	slices.SortFunc(s.hits, func(a, b crossing) int { return cmp.Or(cmp.Compare(a.ground, b.ground), cmp.Compare(a.x, b.x)) })
	s.fill(out)
}

// fill turns crossings, two by two, into runs of cells.
func (s *scan) fill(out []int32) {
	for i := range out {
		out[i] = -1
	}
	for i := 0; i+1 < len(s.hits); i += 2 { // the crossings of one ground are even in number: its rings are closed
		for c, end := s.frame.firstColumn(s.hits[i].x), s.frame.firstColumn(s.hits[i+1].x); c < end; c++ {
			if out[c] < 0 {
				out[c] = s.hits[i].ground
			}
		}
	}
}
