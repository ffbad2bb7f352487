package arrange

import (
	"cmp"
	"slices"

	"rootworthy/internal/geo"
)

// touch says that two rings of one part meet in a point.
type touch struct {
	at         geo.Pt
	ring, with int32
}

// cut says that an edge from a to b is met in point at, within it or at an end.
type cut struct{ a, b, at geo.Pt }

// meetings looks at all pairs of chains whose boxes meet. The tree is held against itself: under each node all pairs of its
// children, and where the boxes of two nodes meet, each child of one with each of the other. So every pair of chains comes
// up once, and always the earlier one first.
func (c *Checker) meetings() {
	if len(c.chains) == 0 {
		return
	}
	c.buildTree()
	all := geo.NoBox()
	for i := range c.chains {
		all.Grow(c.chains[i].Box)
	}
	c.wide = all.X1-all.X0 >= small || all.Y1-all.Y0 >= small
	top := len(c.levels)
	for i := range c.width(top) {
		c.within(top, i)
		for j := i + 1; j < c.width(top); j++ {
			c.between(top, i, j)
		}
	}
}

// within looks at the pairs of chains under one node.
func (c *Checker) within(depth, k int) {
	if depth == 0 || c.done() {
		return
	}
	end := min((k+1)*treeFan, c.width(depth-1))
	for i := k * treeFan; i < end; i++ {
		c.within(depth-1, i)
		for j := i + 1; j < end; j++ {
			c.between(depth-1, i, j)
		}
	}
}

// between looks at the pairs of chains under two nodes, j after i.
func (c *Checker) between(depth, i, j int) {
	if depth == 0 {
		if f, g := &c.chains[i], &c.chains[j]; f.Meets(&g.Box) {
			c.chainPair(f, g)
		}
		return
	}
	if !c.levels[depth-1][i].Meets(&c.levels[depth-1][j]) || c.done() {
		return
	}
	endI, endJ := min((i+1)*treeFan, c.width(depth-1)), min((j+1)*treeFan, c.width(depth-1))
	for a := i * treeFan; a < endI; a++ {
		for b := j * treeFan; b < endJ; b++ {
			c.between(depth-1, a, b)
		}
	}
}

// chainPair looks at the edges of two chains in the common part of their boxes.
func (c *Checker) chainPair(f, g *chain) {
	common := geo.Box{X0: max(f.X0, g.X0), Y0: max(f.Y0, g.Y0), X1: min(f.X1, g.X1), Y1: min(f.Y1, g.Y1)}
	if f.ring == g.ring && common.X0 == common.X1 && common.Y0 == common.Y1 && c.follows(f, g) {
		// One follows the other and the boxes meet in a point, which then is their common end. A chain goes through
		// its end only once, and edges that fold back would have more in common.
		return
	}
	var inF, inG [chainMax]int32
	nf := c.edgesIn(f, &common, &inF)
	if nf == 0 {
		return
	}
	ng := c.edgesIn(g, &common, &inG)
	p, q := c.rings[f.ring].points, c.rings[g.ring].points
	for _, i := range inF[:nf] {
		b := boxOf(p[i], p[after(i, p)])
		for _, j := range inG[:ng] {
			if d := boxOf(q[j], q[after(j, q)]); b.Meets(&d) {
				c.edgePair(f.ring, g.ring, i, j)
			}
		}
	}
}

// edgesIn lists the edges of a chain whose boxes meet b.
func (c *Checker) edgesIn(f *chain, b *geo.Box, list *[chainMax]int32) (n int) {
	points := c.rings[f.ring].points
	p := points[f.start]
	for i := f.start; i < f.start+f.n; i++ {
		q := points[after(i, points)]
		if e := boxOf(p, q); e.Meets(b) {
			list[n] = i
			n++
		}
		p = q
	}
	return n
}

// follows says whether one of two chains of a ring begins where the other ends.
func (c *Checker) follows(f, g *chain) bool {
	n := int32(len(c.rings[f.ring].points))
	return (f.start+f.n)%n == g.start || (g.start+g.n)%n == f.start
}

// after returns the index of the point after i.
func after(i int32, ring []geo.Pt) int32 {
	if i++; int(i) == len(ring) {
		return 0
	}
	return i
}

// side is geo.Orient, in 64 bits where that is exact.
func (c *Checker) side(a, b, p geo.Pt) int {
	if c.wide {
		return geo.Orient(a, b, p)
	}
	switch d := (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X); {
	case d > 0:
		return 1
	case d < 0:
		return -1
	}
	return 0
}

// edgePair looks at edge i of one ring and edge j of another or the same, whose boxes meet. On which sides of each other's
// lines their four ends lie says it all:
//
//	both ends of one on one side      nothing in common
//	both ends of one on the line      one straight line: alongside
//	each between the other's sides    a crossing
//	an end on the other's line        a touch in that end
func (c *Checker) edgePair(ring, with, i, j int32) {
	p, q := c.rings[ring].points, c.rings[with].points
	a, b := p[i], p[after(i, p)]
	d, e := q[j], q[after(j, q)]
	sd, se := c.side(a, b, d), c.side(a, b, e)
	if sd == se && sd != 0 {
		return
	}
	if sd == 0 && se == 0 {
		c.alongside(ring, with, i, j)
		return
	}
	sa, sb := c.side(d, e, a), c.side(d, e, b)
	switch {
	case sa == sb && sa != 0:
	case sd*se < 0 && sa*sb < 0:
		c.crossed(ring, with, unit.round(crossing(a, b, d, e)))
	case ring == with && (after(i, p) == j || after(j, p) == i): // one after the other: their common end
	case sd == 0:
		c.touched(ring, with, d, cut{a, b, d}, cut{d, e, d})
	case se == 0:
		c.touched(ring, with, e, cut{a, b, e}, cut{d, e, e})
	case sa == 0:
		c.touched(ring, with, a, cut{d, e, a}, cut{a, b, a})
	default:
		c.touched(ring, with, b, cut{d, e, b}, cut{a, b, b})
	}
}

// alongside looks at two edges on one straight line, whose boxes meet: so they share a stretch or an end.
func (c *Checker) alongside(ring, with, i, j int32) {
	p, q := c.rings[ring].points, c.rings[with].points
	a, b := ordered(p[i], p[after(i, p)])
	d, e := ordered(q[j], q[after(j, q)])
	lo, hi := a, b // what they share runs from the greater of the lesser ends to the lesser of the greater ones
	if lo.Less(d) {
		lo = d
	}
	if e.Less(hi) {
		hi = e
	}
	next, previous := after(i, p) == j, after(j, p) == i
	switch {
	case lo != hi && ring == with && next:
		c.fault(Spike, ring, q[j])
	case lo != hi && ring == with && previous:
		c.fault(Spike, ring, p[i])
	case lo != hi:
		c.crossed(ring, with, lo)
	case ring == with && (next || previous):
	default:
		c.touched(ring, with, lo, cut{a, b, lo}, cut{d, e, lo})
	}
}

// ordered returns the lesser point first.
func ordered(a, b geo.Pt) (lesser, greater geo.Pt) {
	if b.Less(a) {
		return b, a
	}
	return a, b
}

// crossed notes edges that cross or share a stretch.
func (c *Checker) crossed(ring, with int32, at geo.Pt) {
	if c.rings[ring].part != c.rings[with].part {
		c.fault(Overlap, with, at)
		return
	}
	c.fault(Crossing, with, at)
}

// touched notes edges that meet in a point. Within a part rings may touch, and whether that cuts its ground in two is seen
// later (connected). Edges that are met between their ends are noted too: to see if parts cover the same ground, they have
// to be cut there (sharedGround).
func (c *Checker) touched(ring, with int32, at geo.Pt, cuts ...cut) {
	switch {
	case ring == with:
		c.fault(SelfTouch, ring, at)
	case c.rings[ring].part == c.rings[with].part:
		c.touches = append(c.touches, touch{at, min(ring, with), max(ring, with)})
		fallthrough
	default:
		for _, k := range cuts {
			if k.at != k.a && k.at != k.b {
				k.a, k.b = ordered(k.a, k.b)
				c.cuts = append(c.cuts, k)
			}
		}
	}
}

// cut cuts merged edges in points on them.
func (l *lines) cut(cuts []cut) {
	slices.SortFunc(cuts, func(c, d cut) int {
		return cmp.Or(c.a.Compare(d.a), c.b.Compare(d.b), c.at.Compare(d.at))
	})
	cuts = slices.Compact(cuts)
	for i := range l.edges {
		a, b := l.ends(int32(i))
		k, _ := slices.BinarySearchFunc(cuts, 0, func(c cut, _ int) int { return cmp.Or(c.a.Compare(a), c.b.Compare(b)) })
		for ; k < len(cuts) && cuts[k].a == a && cuts[k].b == b; k++ {
			at := int32(len(l.points))
			l.points = append(l.points, cuts[k].at)
			l.edges = append(l.edges, edge{l.edges[i].a, at, l.edges[i].delta})
			l.edges[i].a = at
		}
	}
}
