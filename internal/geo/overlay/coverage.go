package overlay

import (
	"cmp"
	"fmt"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/index"
)

// Coverage is a set of survey polygons in one plane, each with a key (the map unit). Fill it with Add from one
// goroutine; after that it may be read by any number. It takes about 11 bytes a vertex and 170 a polygon.
type Coverage struct {
	slabs    []*slab
	polygons []polygon
	tree     atomic.Pointer[index.Tree] // of all boxes; nil after Add
	building sync.Mutex

	mu     sync.RWMutex
	mended map[uint32]*mended // polygons that are not used as they lie in their slab
	state  []atomic.Uint32    // of each polygon: isMended, isValid; made with the tree
}

// polygon is one survey polygon. Its rings are in a slab, or, where they are too wide for offsets, in mended.
type polygon struct {
	slab   *slab // nil if it has no ground in it
	from   mark
	to     mark
	origin geo.Pt
	box    geo.Box
	key    uint32
}

// New returns an empty coverage.
func New() *Coverage { return &Coverage{mended: map[uint32]*mended{}} }

// Len returns how many polygons were added.
func (c *Coverage) Len() int { return len(c.polygons) }

// Add appends a polygon: its key and its shape in metres. Ground is what an odd number of rings surrounds, so the
// direction of rings does not matter. The only error is a coordinate that is no number or off the grid; the polygon is
// then not added. Invalid shapes are made valid; see Repairs.
func (c *Coverage) Add(key uint32, shape orb.MultiPolygon) error {
	points := 0
	for _, part := range shape {
		for _, ring := range part {
			points += padded(len(ring) + 1)
		}
	}
	p := polygon{key: key, box: geo.NoBox()}
	var wide *mended
	if points > 0 {
		p.slab = c.slabFor(points)
		p.from = p.slab.mark()
		if fits := p.load(shape); !fits {
			p.slab.reset(p.from)
			p.slab = nil
			parts, err := snapParts(shape)
			if err != nil {
				return err
			}
			wide = newMended(parts)
			p.box = wide.box
		}
	}
	if wide != nil {
		c.mended[uint32(len(c.polygons))] = wide
	}
	c.polygons = append(c.polygons, p)
	c.tree.Store(nil)
	return nil
}

func (c *Coverage) slabFor(points int) *slab {
	if n := len(c.slabs); n > 0 && c.slabs[n-1].room(points) {
		return c.slabs[n-1]
	}
	size := firstSlab
	if n := len(c.slabs); n > 0 {
		size = min(2*cap(c.slabs[n-1].pts), lastSlab)
	}
	c.slabs = append(c.slabs, newSlab(max(size, points)))
	return c.slabs[len(c.slabs)-1]
}

// load snaps all rings of shape into the slab. It returns false if a coordinate is off the grid or the polygon is too
// wide for offsets.
func (p *polygon) load(shape orb.MultiPolygon) bool {
	first := true
	for _, part := range shape {
		for i, ring := range part {
			if len(ring) == 0 {
				continue
			}
			if first {
				p.origin = geo.Pt{X: snapFast(ring[0][0]), Y: snapFast(ring[0][1])}
				first = false
			}
			if !p.loadRing(ring, i == 0) {
				return false
			}
		}
	}
	p.to = p.slab.mark()
	if p.from.rings == p.to.rings {
		p.slab = nil
		return true
	}
	b := p.slab.addSupers(p.from)
	p.to = p.slab.mark()
	p.box = geo.Box{X0: p.origin.X + int64(b.x0), Y0: p.origin.Y + int64(b.y0), X1: p.origin.X + int64(b.x1), Y1: p.origin.Y + int64(b.y1)}
	return onGrid(p.origin.X) && onGrid(p.origin.Y) && !wideBox(&p.box)
}

// loadRing snaps one ring: repeated points go, the end is joined to the beginning, an outer ring is turned to run
// counterclockwise and a hole clockwise. A ring of one or two points has no ground and is left out. One whose
// area is zero is kept: a bow-tie has two lobes all the same, and whoever uses the polygon will find out.
func (p *polygon) loadRing(ring orb.Ring, outer bool) bool {
	s := p.slab
	start := len(s.pts)
	pts := s.pts[start : start+len(ring)+1]
	ox, oy := p.origin.X, p.origin.Y
	var off, area, px, py int64
	n := 0
	for i := range ring {
		x, y := snapFast(ring[i][0])-ox, snapFast(ring[i][1])-oy
		if x == px && y == py && n > 0 {
			continue
		}
		// Offsets lie in ±2^30: shifted up by that they use 31 bits.
		off |= (x + 1<<30) | (y + 1<<30)
		area += (px + x) * (y - py)
		pts[n] = offset{int32(x), int32(y)}
		px, py = x, y
		n++
	}
	if off>>31 != 0 {
		return false
	}
	// The sum began at the origin, not at the first point: take that step off, and close the ring.
	x, y := int64(pts[0].x), int64(pts[0].y)
	area += (px+x)*(y-py) - x*y
	if n > 1 && pts[n-1] == pts[0] {
		n--
	}
	if n < 3 {
		return true
	}
	pts[n] = pts[0]
	if area < 0 == outer {
		slices.Reverse(pts[:n+1])
	}
	s.addRing(p.from, start, n)
	return true
}

// wideSpan is 107 km in grid units. Two points of boxes that meet, each at most this wide, differ by at most 2^31, and
// an edge of either by at most 2^30: all products of predicates fit in 64 bits with a bit to spare.
const wideSpan = 1 << 30

func wideBox(b *geo.Box) bool { return b.X1-b.X0 > wideSpan || b.Y1-b.Y0 > wideSpan }

// snapParts snaps any shape that is on the grid at all, ring by ring, without their closing points.
func snapParts(shape orb.MultiPolygon) ([]arrange.Polygon, error) {
	parts := make([]arrange.Polygon, len(shape))
	for k, part := range shape {
		for _, ring := range part {
			var pts []geo.Pt
			for i, v := range ring {
				p := geo.Pt{X: snapFast(v[0]), Y: snapFast(v[1])}
				if !onGrid(p.X) || !onGrid(p.Y) {
					return nil, fmt.Errorf("point %d of a ring lies at (%g, %g) m; a coordinate must be a number within 1e11 m of the origin", i+1, v[0], v[1])
				}
				if len(pts) == 0 || pts[len(pts)-1] != p {
					pts = append(pts, p)
				}
			}
			parts[k] = append(parts[k], pts)
		}
	}
	return parts, nil
}

// Prepare builds the index over all polygons. Run does it if nobody has; it is here for those who want to know how
// long it takes.
func (c *Coverage) Prepare() { c.prepare() }

// prepare builds what Run and Repairs need once all polygons are there: the index, and a state for each.
func (c *Coverage) prepare() *index.Tree {
	if t := c.tree.Load(); t != nil {
		return t
	}
	c.building.Lock()
	defer c.building.Unlock()
	if t := c.tree.Load(); t != nil {
		return t
	}
	boxes := make([]geo.Box, len(c.polygons))
	for i := range c.polygons {
		boxes[i] = c.polygons[i].box
	}
	state := make([]atomic.Uint32, len(c.polygons))
	for i := range c.state {
		state[i].Store(c.state[i].Load())
	}
	for id := range c.mended {
		state[id].Or(isMended)
	}
	t := index.Build(boxes)
	c.state = state
	c.tree.Store(t)
	return t
}

// Repairs tests all polygons for validity and returns what was changed, by number of polygon. Run does not need it: it
// tests what it uses.
func (c *Coverage) Repairs() []Repair {
	c.prepare()
	var s soil
	var k checker
	for id := range c.polygons {
		if c.state[id].Load()&isValid == 0 {
			c.view(uint32(id), &s)
			c.examine(uint32(id), &s, &k)
		}
	}
	c.mu.RLock()
	defer c.mu.RUnlock()
	var all []Repair
	for _, m := range c.mended {
		if m.repair != nil {
			all = append(all, *m.repair)
		}
	}
	slices.SortFunc(all, func(a, b Repair) int { return cmp.Compare(a.Number, b.Number) })
	return all
}
