package taskdata

import (
	"cmp"
	"container/heap"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils/unit"
)

// merged joins every piece smaller than smallest to the neighbour whose rate is nearest to its own, the smallest piece
// first, and returns how many were joined. Together the two get the mean of their rates by area, so the lime stays the
// same. Ground that nobody rated (water, pits) takes no part: it must never get lime. A piece with lime is not thinned out
// over ground that needs none. A piece without a fit neighbour stays as it is.
func merged(grounds []ground, smallest unit.Area) ([]ground, int) {
	m := &merging{pieces: pieces(grounds)}
	m.meet()
	joined := 0
	for i := range m.pieces {
		if m.pieces[i].area < smallest {
			heap.Push(&m.small, sized{i, m.pieces[i].area})
		}
	}
	for m.small.Len() > 0 {
		s := heap.Pop(&m.small).(sized)
		if m.root(s.piece) != s.piece || m.pieces[s.piece].area != s.area {
			continue // it has grown or gone since
		}
		if to := m.neighbour(s.piece); to >= 0 {
			joined++
			if area := m.join(s.piece, to); area < smallest {
				heap.Push(&m.small, sized{to, area})
			}
		}
	}
	if joined == 0 {
		return grounds, 0
	}
	return m.grounds(), joined
}

// piece is one polygon of a ground, or several that have been joined.
type piece struct {
	ground
	into   int             // the piece that it was joined to; itself when none
	border map[int]float64 // length of the border with each neighbour, in degrees
}

// merging holds all pieces, joined ones too, and those that are still too small.
type merging struct {
	pieces []piece
	small  bySize
}

// pieces takes grounds apart into polygons. Their areas on the ellipsoid are scaled to add up to the area of the ground.
func pieces(grounds []ground) []piece {
	var out []piece
	for _, g := range grounds {
		first, sum := len(out), 0.0
		for _, polygon := range g.shape {
			// Parts of one zone are pieces of their own: one of them may be a sliver between two others.
			p := piece{ground: g, into: len(out), border: map[int]float64{}}
			p.shape = orb.MultiPolygon{polygon}
			m2, _ := proj.GeodesicArea(p.shape, proj.GeodesicOptions{})
			p.area = unit.Area(m2)
			sum += m2
			out = append(out, p)
		}
		for i := first; i < len(out) && sum > 0; i++ {
			out[i].area *= g.area / unit.Area(sum)
		}
	}
	return out
}

// meet finds who shares borders. Zones of a run share them vertex by vertex.
func (m *merging) meet() {
	type side struct{ a, b orb.Point }
	seen := map[side]int{}
	for i := range m.pieces {
		for _, ring := range m.pieces[i].shape[0] {
			for k := 1; k < len(ring); k++ {
				a, b := ring[k-1], ring[k]
				if cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) > 0 {
					a, b = b, a
				}
				if j, ok := seen[side{a, b}]; !ok {
					seen[side{a, b}] = i
				} else if j != i {
					// In degrees, which stretches borders that run north and south; lengths only break a tie.
					long := math.Hypot(a[0]-b[0], a[1]-b[1])
					m.pieces[i].border[j] += long
					m.pieces[j].border[i] += long
				}
			}
		}
	}
}

// root follows joins to the piece that is left.
func (m *merging) root(i int) int {
	for m.pieces[i].into != i {
		// Each look shortens the way for the next one.
		m.pieces[i].into = m.pieces[m.pieces[i].into].into
		i = m.pieces[i].into
	}
	return i
}

// neighbour returns the neighbour whose joining changes rates least; of equals the one with the longest border, then
// the first. -1 when none is fit.
func (m *merging) neighbour(i int) int {
	p := &m.pieces[i]
	if p.barred {
		return -1
	}
	borders := map[int]float64{}
	for j, long := range p.border {
		if r := m.root(j); r != i && !m.pieces[r].barred && (p.want == 0 || m.pieces[r].want > 0) {
			borders[r] += long
		}
	}
	best := -1
	for j, long := range borders { // the comparison below is total, so the order of the map does not matter
		if best < 0 || cmp.Or(cmp.Compare(m.harm(i, j), m.harm(i, best)), cmp.Compare(borders[best], long), cmp.Compare(j, best)) < 0 {
			best = j
		}
	}
	return best
}

// harm is by how much the lime of a small piece changes when it gets a neighbour's rate. The neighbour is larger, so
// its own change is the same mass spread over more ground.
func (m *merging) harm(i, j int) float64 {
	return math.Abs(float64(m.pieces[i].want-m.pieces[j].want)) * float64(min(m.pieces[i].area, m.pieces[j].area))
}

// join puts piece i to piece j and returns the area of both.
func (m *merging) join(i, j int) unit.Area {
	p, to := &m.pieces[i], &m.pieces[j]
	mass := p.want.Over(p.area) + to.want.Over(to.area)
	if p.want != to.want { // equal rates stay as they are to the last bit
		to.want = unit.AreaRate(mass / unit.Mass(p.area+to.area))
	}
	if p.area > to.area {
		to.zone = p.zone
	}
	to.area += p.area
	to.shape = append(to.shape, p.shape...)
	p.into = j
	// The shorter list goes into the longer one, so that a chain of joins does not copy the same borders over and over.
	if len(p.border) > len(to.border) {
		p.border, to.border = to.border, p.border
	}
	for k, long := range p.border {
		to.border[k] += long
	}
	p.border, p.shape = nil, nil
	return to.area
}

// grounds returns what is left, borders between joined pieces dissolved.
func (m *merging) grounds() []ground {
	const step = 1e-7 // the grid of all coordinates in files
	var out []ground
	for i := range m.pieces {
		p := &m.pieces[i]
		if p.into != i {
			continue
		}
		if len(p.shape) > 1 {
			if parts, ok := arrange.FromOrb(p.shape, step); ok {
				p.shape = export.Tidy(arrange.ToOrb(arrange.Dissolve(parts), step))
			}
		}
		out = append(out, p.ground)
	}
	return out
}

// bySize is a heap of pieces, the smallest on top.
type bySize []sized

// sized is a piece by its index with the area it had when it was put on the heap; it may have grown since.
type sized struct {
	piece int
	area  unit.Area
}

// The methods of container/heap. Of equal areas the first piece comes first.
func (h bySize) Len() int { return len(h) }
func (h bySize) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(h[i].area, h[j].area), cmp.Compare(h[i].piece, h[j].piece)) < 0
}
func (h bySize) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *bySize) Push(x any)   { *h = append(*h, x.(sized)) }
func (h *bySize) Pop() any {
	last := (*h)[len(*h)-1]
	*h = (*h)[:len(*h)-1]
	return last
}
