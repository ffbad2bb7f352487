package arrange

import "rootworthy/internal/geo"

// chainMax is the most edges in a chain. Measured on survey polygons: 8 to 12 is best.
const chainMax = 12

// Checker tests rings for validity and keeps its memory between calls. The zero Checker is ready; one per goroutine.
//
// It cuts rings into chains that run strictly to one side (all edges to the right, or left, or up, or down). Such a
// chain cannot meet itself, so only pairs of chains whose boxes meet are looked at, and a tree of boxes over
// consecutive chains finds those. A ring of n points that is not too wild takes some n·log n steps, most of them in the
// cutting.
type Checker struct {
	rings   []ringOf
	chains  []chain
	levels  [][]geo.Box // boxes around 4 consecutive chains, around 4 of those, and so on
	touches []touch     // where rings of one part meet in a point
	cuts    []cut       // where rings of different parts meet within an edge
	bad     []Finding
	more    int // faults wanted beyond the first
	wide    bool

	parent []int32
	odd    []bool
}

// ringOf is a ring under test.
type ringOf struct {
	points []geo.Pt
	part   int32
	index  int32 // in its part
	first  int32 // its first chain
}

// chain is n consecutive edges of a ring, from the point with index start, that all run to one side.
type chain struct {
	geo.Box
	ring, start, n int32
}

// cutChains cuts a ring into chains.
func (c *Checker) cutChains(ring int32) {
	p := c.rings[ring].points
	if len(p) < 3 {
		at := geo.Pt{}
		if len(p) > 0 {
			at = p[0]
		}
		c.fault(TooFew, ring, at)
		return
	}
	ch := chain{ring: ring, Box: boxOf(p[0], p[0])}
	ways := uint(0)
	a := p[0]
	for i := range p {
		b := p[0]
		if i+1 < len(p) {
			b = p[i+1]
		}
		w := waysOf(a, b)
		if w == 0 {
			c.fault(Repeated, ring, a)
			return
		}
		if ways&w == 0 || ch.n == chainMax {
			if ch.n > 0 {
				c.chains = append(c.chains, ch)
			}
			ch = chain{ring: ring, start: int32(i), Box: boxOf(a, a)}
			ways = w
		}
		ways &= w
		ch.n++
		ch.X0, ch.X1 = min(ch.X0, b.X), max(ch.X1, b.X)
		ch.Y0, ch.Y1 = min(ch.Y0, b.Y), max(ch.Y1, b.Y)
		a = b
	}
	c.chains = append(c.chains, ch)
}

// waysOf returns the sides an edge runs to, a bit each for right, left, up, down: none for an edge of no length.
func waysOf(a, b geo.Pt) (w uint) {
	if b.X > a.X {
		w = 1
	} else if b.X < a.X {
		w = 2
	}
	if b.Y > a.Y {
		w |= 4
	} else if b.Y < a.Y {
		w |= 8
	}
	return w
}

// chainsOf returns the chains of a ring.
func (c *Checker) chainsOf(ring int32) []chain {
	end := int32(len(c.chains))
	if int(ring)+1 < len(c.rings) {
		end = c.rings[ring+1].first
	}
	return c.chains[c.rings[ring].first:end]
}

// treeFan is the number of children of a node of the tree over chains.
const treeFan = 4

// buildTree puts boxes over the chains. Level 0 is the first above the chains themselves.
func (c *Checker) buildTree() {
	c.levels = c.levels[:0]
	n := len(c.chains)
	for depth := 0; n > treeFan; depth++ {
		if cap(c.levels) > depth {
			c.levels = c.levels[:depth+1]
		} else {
			c.levels = append(c.levels, nil)
		}
		level := c.levels[depth][:0]
		for i := 0; i < n; i += treeFan {
			b := c.boxAt(depth, i)
			for j := i + 1; j < min(i+treeFan, n); j++ {
				b.Grow(c.boxAt(depth, j))
			}
			level = append(level, b)
		}
		c.levels[depth] = level
		n = len(level)
	}
}

// boxAt returns the box of node k at a depth; depth 0 are the chains.
func (c *Checker) boxAt(depth, k int) geo.Box {
	if depth == 0 {
		return c.chains[k].Box
	}
	return c.levels[depth-1][k]
}

// width returns the number of nodes at a depth.
func (c *Checker) width(depth int) int {
	if depth == 0 {
		return len(c.chains)
	}
	return len(c.levels[depth-1])
}
