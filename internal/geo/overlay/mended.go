package overlay

import (
	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// mended is a survey polygon that is not used as it lies in its slab: too wide for offsets, or made valid.
type mended struct {
	place  polygon // in a slab of its own
	figure *figure // instead, where it is too wide
	box    geo.Box
	repair *Repair // nil if it was only too wide
}

// newMended keeps valid parts, or rings as read, outside the slabs of the coverage.
func newMended(parts []arrange.Polygon) *mended {
	f := &figure{} // boxes, orders and turns the rings, and finds out if they are too wide
	f.loadParts(parts)
	m := &mended{figure: f, box: f.box}
	if f.wide || len(f.rings) == 0 {
		return m
	}
	m.figure = nil
	origin := geo.Pt{X: f.box.X0, Y: f.box.Y0}
	m.place = polygon{slab: newSlab(len(f.pts)), origin: origin, box: f.box}
	for _, r := range f.rings {
		start := len(m.place.slab.pts)
		for i, p := range f.ring(r) {
			m.place.slab.pts = m.place.slab.pts[:start+i+1]
			m.place.slab.pts[start+i] = offset{int32(p.X - origin.X), int32(p.Y - origin.Y)}
		}
		m.place.slab.addRing(mark{}, start, int(r.n))
	}
	m.place.slab.addSupers(mark{})
	m.place.to = m.place.slab.mark()
	return m
}

// view makes s the polygon as it is to be used. It fails only where the polygon has to be read from a file.
func (c *Coverage) view(id uint32, s *soil) error {
	if c.state[id].Load()&isMended != 0 {
		c.mu.RLock()
		m := c.mended[id]
		c.mu.RUnlock()
		m.view(s)
		return nil
	}
	p := &c.polygons[id]
	if p.slab == nil && c.file != nil && p.from != p.to {
		there := *p
		var err error
		if there.slab, err = c.file.slab(p.block); err != nil {
			return err
		}
		there.view(s)
		return nil
	}
	p.view(s)
	return nil
}

func (m *mended) view(s *soil) {
	if m.figure == nil {
		m.place.view(s)
	} else {
		*s = soil{box: m.box, rings: m.figure.rings, wide: m.figure}
	}
	s.of = m
}

// State bits of a polygon. They are set once, by whichever worker comes first.
const (
	isMended = 1 << iota // look in Coverage.mended
	isValid              // tested, and mended if need be
)

// examine tests polygon id, which s shows, for validity, and makes it valid if it is not. It says whether
// polygon has been made valid (by whomever) since s was taken.
func (c *Coverage) examine(id uint32, s *soil, k *checker) bool {
	if c.state[id].Load()&isValid != 0 {
		// Only if somebody else mended it meanwhile does s show what it was before.
		c.mu.RLock()
		defer c.mu.RUnlock()
		return s.of != c.mended[id]
	}
	var o outline
	for _, r := range s.rings {
		start := len(o.pts)
		o.pts = s.appendRing(o.pts, r)
		o.rings = append(o.rings, span{int32(start), r.n})
	}
	if k.check(o.pts, o.rings, s.wide != nil || wideBox(&s.box)) == clean {
		c.state[id].Or(isValid)
		return false
	}
	before := geo.Int128{}
	for _, a := range k.areas {
		before = before.Add(a)
	}
	rings := o.open(0)
	r := &Repair{Number: int(id), Before: geo.SquareMetres(before)}
	m := newMended(r.mend(rings))
	m.repair = r
	// Two workers may have mended the polygon at once; both got the same, and who comes second drops his.
	c.mu.Lock()
	if old := c.mended[id]; old == nil || old.repair == nil {
		c.mended[id] = m
	}
	c.mu.Unlock()
	c.state[id].Or(isMended | isValid)
	return true
}

// mend makes rings valid: ground is what an odd number of them goes round.
func (r *Repair) mend(rings [][]geo.Pt) []arrange.Polygon {
	r.find(rings)
	parts, ok := arrange.MakeValid([]arrange.Polygon{rings})
	r.Tangled = !ok
	r.After = geo.SquareMetres(areaOf(parts))
	return parts
}

// find sets kind and place of the first fault of rings, each outer one of which (they run counterclockwise) is followed
// by its holes.
func (r *Repair) find(rings [][]geo.Pt) {
	var parts []arrange.Polygon
	for _, ring := range rings {
		if n := len(parts); n > 0 && geo.DoubledArea(ring).Sign() < 0 {
			parts[n-1] = append(parts[n-1], ring)
		} else {
			parts = append(parts, arrange.Polygon{ring})
		}
	}
	if found := arrange.CheckAll(parts); !found.OK() {
		r.Kind, r.At = found.Kind, orb.Point{toMetres(found.At.X), toMetres(found.At.Y)}
	}
}

// open returns the rings from first on without their closing points.
func (o *outline) open(first int) [][]geo.Pt {
	var rings [][]geo.Pt
	for _, r := range o.rings[first:] {
		rings = append(rings, o.pts[r.start:r.start+r.n:r.start+r.n])
	}
	return rings
}

func areaOf(parts []arrange.Polygon) geo.Int128 {
	var sum geo.Int128
	for _, part := range parts {
		for _, ring := range part {
			sum = sum.Add(geo.DoubledArea(ring))
		}
	}
	return sum
}
