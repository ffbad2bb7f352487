package overlay

import (
	"cmp"
	"errors"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/index"
)

// Coverage is a set of survey polygons in one plane, each with a key (the map unit). Fill it with Add from one
// goroutine; after that it may be read by any number. A polygon that is added takes about 11 bytes a vertex, one that is
// taken the 16 it came with, and each about 160 more.
type Coverage struct {
	filler   filler
	polygons []polygon
	file     *blockFile                 // where slabs are read from as they are needed; nil if all are in memory
	tree     atomic.Pointer[index.Tree] // of all boxes; nil after Add
	building sync.Mutex

	mu     sync.RWMutex
	mended map[uint32]*mended // polygons that are not used as they lie in their slab
	state  []atomic.Uint32    // of each polygon: isMended, isValid; made with the tree
}

// polygon is one survey polygon. Its rings are in a slab, or, where they are too wide for offsets, in mended.
type polygon struct {
	slab           *slab   // nil if it has no ground, or none in memory, or in its own
	own            *offset // the memory of the shape that was taken, laid out for room points and ringRoom rings
	room, ringRoom uint32
	block          uint32 // in Coverage.file
	from           mark
	to             mark
	origin         geo.Pt
	box            geo.Box
	key            uint32
}

var errFromFile = errors.New("a coverage that was opened from a file takes no more polygons")

// New returns an empty coverage.
func New() *Coverage { return &Coverage{mended: map[uint32]*mended{}} }

// Len returns how many polygons were added.
func (c *Coverage) Len() int { return len(c.polygons) }

// Add appends a polygon: its key and its shape in metres. Ground is what an odd number of rings surrounds, so the
// direction of rings does not matter. The only error is a coordinate that is no number or off the grid; the polygon is
// then not added. Invalid shapes are made valid; see Repairs. The shape is copied; Take saves that.
func (c *Coverage) Add(key uint32, shape orb.MultiPolygon) error {
	return c.append(c.filler.add, key, shape)
}

// Take is Add for a shape that the caller has no more use for: its rings become the coverage's, which writes over them.
// Nothing else may lie in their memory, nor be read from it again.
func (c *Coverage) Take(key uint32, shape orb.MultiPolygon) error {
	return c.append(c.filler.take, key, shape)
}

func (c *Coverage) append(add func(uint32, orb.MultiPolygon) (polygon, *mended, error), key uint32, shape orb.MultiPolygon) error {
	if c.file != nil {
		return errFromFile
	}
	p, m, err := add(key, shape)
	if err != nil {
		return err
	}
	if m != nil {
		c.mended[uint32(len(c.polygons))] = m
	}
	c.polygons = append(c.polygons, p)
	c.tree.Store(nil)
	return nil
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
// tests what it uses. Polygons that cannot be read from their file are left out; Run says why.
func (c *Coverage) Repairs() []Repair {
	c.prepare()
	var s soil
	var k checker
	for id := range c.polygons {
		if c.state[id].Load()&isValid == 0 {
			if c.view(uint32(id), &s) == nil {
				c.examine(uint32(id), &s, &k)
			}
		}
	}
	c.mu.RLock()
	defer c.mu.RUnlock()
	var all []Repair
	for _, m := range c.mended {
		if r := m.repair; r != nil && (r.Kind != arrange.Valid || r.Tangled || r.Dropped > 0) { // else only its rings touched
			all = append(all, *m.repair)
		}
	}
	slices.SortFunc(all, func(a, b Repair) int { return cmp.Compare(a.Number, b.Number) })
	return all
}
