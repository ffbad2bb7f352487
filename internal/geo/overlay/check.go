package overlay

import (
	"slices"

	"rootworthy/internal/geo"
)

// verdict is what a set of rings is like.
type verdict uint8

const (
	clean     verdict = iota // simple rings without contact, each outer ring and hole where it belongs
	touching                 // in contact, but only in common vertices
	crossed                  // edges cross, overlap, or end on another edge
	misplaced                // no contact, but a ring is on the wrong side of another
)

// checker tests the rings of one piece, exactly. Instead of testing every input polygon as a whole, which would cost as
// much as cutting it, the engine tests what comes out. That is enough:
//
// Ground is where an odd number of the survey polygon's rings goes round. Along the field's boundary the pieces are
// right: the even-odd count of a point was compared with the direction of the crossings (phase), and each crossing
// changes it. From there, walk into the field: the traced rings' winding number and the even-odd count change
// together at each survey line, and if the rings are found valid the winding number is 0 or 1 everywhere. So they
// agree everywhere.
//
// Most of the test costs a few operations a vertex. A run of edges that all advance in one direction cannot
// meet itself, and eight directions are kept as eight bits a chunk: chunks that follow each other on a ring and share a
// bit need no more. Others are compared by their boxes, and only then edge by edge.
type checker struct {
	pts    []geo.Pt
	rings  []span
	chunks []run
	joins  []uint8   // of each chunk: its directions, or none if it begins a ring; and none behind the last
	around []geo.Box // of each chunk
	order  []int32
	areas  []geo.Int128 // doubled, of each ring
	boxes  []geo.Box    // of each ring
	left   []int32      // of each ring: its first chunk that reaches as far left as any
	parent []int32      // the ring around each, -1 for none; only when clean
	wide   bool
	worst  verdict

	// What pairs and between work in; here, so that nobody has to clear it each time.
	corners [fewChunks]corners
	near    [chunk]int32
}

// run is eight edges of a ring, or fewer at its end.
type run struct {
	first, n int32 // edges first … first+n-1
	ring     int32
	ahead    uint8 // directions in which all its edges advance
}

// check tests rings (closed, at least three edges each, no repeated points).
func (c *checker) check(pts []geo.Pt, rings []span, wide bool) verdict {
	c.pts, c.rings, c.wide, c.worst = pts, rings, wide, clean
	c.chunks, c.around, c.areas, c.boxes, c.joins = c.chunks[:0], c.around[:0], c.areas[:0], c.boxes[:0], c.joins[:0]
	c.left = c.left[:0]
	for i, r := range rings {
		c.measure(int32(i), r)
	}
	c.joins = append(c.joins, 0)
	if c.contacts(); c.worst != clean {
		return c.worst
	}
	return c.nest()
}

// measure boxes the chunks of a ring, finds the directions they advance in, and sums the ring's area.
func (c *checker) measure(ring int32, r span) {
	box, left := geo.NoBox(), 0
	var area int64
	first, m := len(c.chunks), (int(r.n)+chunk-1)/chunk
	c.chunks, c.around, c.joins = roomFor(c.chunks, m), roomFor(c.around, m), roomFor(c.joins, m)
	chunks, around, joins := c.chunks[first:], c.around[first:], c.joins[first:]
	around, joins = around[:len(chunks)], joins[:len(chunks)]
	i, rest := r.start, r.n
	for k := range chunks {
		n := min(chunk, rest)
		pts := c.pts[i : i+n+1]
		b, part := extent(pts)
		area += part
		if b.X0 < box.X0 {
			left = first + k
		}
		box.Grow(b)
		around[k] = b
		joins[k] = directions(pts, c.wide)
		chunks[k] = run{i, n, ring, joins[k]}
		i, rest = i+n, rest-n
	}
	joins[0] = 0
	c.boxes, c.left = append(c.boxes, box), append(c.left, int32(left))
	if c.wide {
		c.areas = append(c.areas, geo.DoubledArea(c.pts[r.start:r.start+r.n+1]))
	} else {
		c.areas = append(c.areas, geo.Wide(area)) // exact: see figure.end
	}
}

// extent returns the box around a run of edges, and its share in twice the ring's area.
func extent(pts []geo.Pt) (geo.Box, int64) {
	px, py := pts[0].X, pts[0].Y
	x0, y0, x1, y1 := px, py, px, py
	var area int64
	for _, q := range pts[1:] {
		area += (px + q.X) * (q.Y - py)
		px, py = q.X, q.Y
		x0, x1, y0, y1 = min(x0, px), max(x1, px), min(y0, py), max(y1, py)
	}
	return geo.Box{X0: x0, Y0: y0, X1: x1, Y1: y1}, area
}

// directions returns in which of eight directions all edges along pts advance, as eight bits: along X, along Y, and along
// both diagonals, each forth and back. An edge at right angles to a direction does not advance in it.
//
// An edge (x, y) is packed as x·2^32 + y, whose sign is that of x, or where x is zero that of y: no edge is at right
// angles to that. Bit 31 is the sign of y. The same of x+y and x-y tells of the diagonals. They fit as edges are no
// longer than wideSpan; among longer ones nothing is claimed to advance.
func directions(pts []geo.Pt, wide bool) uint8 {
	if wide {
		return 0
	}
	last := pts[0]
	a, b, c, d := int64(-1), int64(-1), int64(-1), int64(-1)
	for _, q := range pts[1:] {
		x, y := q.X-last.X, q.Y-last.Y
		last = q
		s, t := x<<32+y, (x+y)<<32+(x-y)
		a &= s
		b &= -s
		c &= t
		d &= -t
	}
	return signs(a) | signs(b)<<1 | signs(c)<<4 | signs(d)<<5
}

// signs returns bit 31 of v as bit 0 and bit 63 as bit 2.
func signs(v int64) uint8 { return uint8(uint64(v)>>31&1 | uint64(v)>>63<<2) }

// fewChunks is up to where comparing every chunk with every other beats sorting them.
const fewChunks = 48

// contacts compares all chunks that may meet and leaves the worst it finds in c.worst.
func (c *checker) contacts() {
	for i := range c.chunks {
		if c.chunks[i].ahead == 0 {
			c.within(&c.chunks[i])
		}
	}
	if len(c.chunks) <= fewChunks && !c.wide {
		c.pairs()
		return
	}
	// Sorted by their left sides, only chunks that begin before this one ends can meet it.
	c.order = c.order[:0]
	for i := range c.chunks {
		c.order = append(c.order, int32(i))
	}
	slices.SortFunc(c.order, func(i, j int32) int { return int(sign(c.around[i].X0 - c.around[j].X0)) })
	for k, i := range c.order {
		a := &c.around[i]
		for _, j := range c.order[k+1:] {
			b := &c.around[j]
			if b.X0 > a.X1 {
				break
			}
			if b.Y0 <= a.Y1 && a.Y0 <= b.Y1 {
				c.between(int(min(i, j)), int(max(i, j)))
			}
		}
	}
}

func sign(v int64) int64 { return v>>63 | int64(uint64(-v)>>63) }

// pairs compares all chunks that meet, box by box. The rings are narrow, so their boxes fit into words when counted from the
// lower left of all.
func (c *checker) pairs() {
	all := geo.NoBox()
	for i := range c.boxes {
		all.Grow(c.boxes[i])
	}
	corners := c.corners[:len(c.around)]
	for i := range c.around {
		b := &c.around[i]
		corners[i] = cornersOf(b, all.X0, all.Y0)
	}
	for i := range corners {
		p, first := corners[i].pane(), c.after(i)
		for j := range corners[first:] {
			if p.meetsCorners(&corners[first+j]) {
				c.between(i, first+j)
			}
		}
	}
}

// after returns the first chunk behind chunk i on its ring that together with those between does not go one way; or the
// first of the next ring. All before it have no contact with chunk i but, the next one, in the point they share.
func (c *checker) after(i int) int {
	ahead := c.chunks[i].ahead
	for k, join := range c.joins[i+1:] {
		if ahead &= join; ahead == 0 {
			return i + 1 + k
		}
	}
	return i + 1 // never: the last join has no direction
}

// within compares the edges of one chunk with each other.
func (c *checker) within(a *run) {
	for i := a.first; i < a.first+a.n; i++ {
		b := edgeBox(c.pts[i], c.pts[i+1])
		for j := i + 1; j < a.first+a.n; j++ {
			if meets(c.pts[j], c.pts[j+1], &b) != 0 {
				c.edges(i, j, a.ring)
			}
		}
	}
}

func edgeBox(p, q geo.Pt) geo.Box {
	return geo.Box{X0: min(p.X, q.X), Y0: min(p.Y, q.Y), X1: max(p.X, q.X), Y1: max(p.Y, q.Y)}
}

// between compares the edges of chunks i < j, whose boxes meet.
func (c *checker) between(i, j int) {
	a, b := &c.chunks[i], &c.chunks[j]
	if a.ring == b.ring && a.ahead&b.ahead != 0 {
		// One after the other on a ring and going the same way: no contact but the point between them.
		if j == i+1 || j == i+2 && a.ahead&b.ahead&c.chunks[i+1].ahead != 0 || c.round(a, b) {
			return
		}
	}
	ba, bb := &c.around[i], &c.around[j]
	common := geo.Box{X0: max(ba.X0, bb.X0), Y0: max(ba.Y0, bb.Y0), X1: min(ba.X1, bb.X1), Y1: min(ba.Y1, bb.Y1)}
	near := &c.near
	m := 0
	for e := b.first; e < b.first+b.n; e++ {
		near[m&(chunk-1)] = e
		m += meets(c.pts[e], c.pts[e+1], &common)
	}
	if m == 0 {
		return
	}
	ring := int32(-1)
	if a.ring == b.ring {
		ring = a.ring
	}
	for e := a.first; e < a.first+a.n; e++ {
		if meets(c.pts[e], c.pts[e+1], &common) == 0 {
			continue
		}
		box := edgeBox(c.pts[e], c.pts[e+1])
		for _, g := range near[:m] {
			if meets(c.pts[g], c.pts[g+1], &box) != 0 {
				c.edges(e, g, ring)
			}
		}
	}
}

// round says whether a is the first chunk of its ring and b the last.
func (c *checker) round(a, b *run) bool {
	r := c.rings[a.ring]
	return a.first == r.start && b.first+chunk >= r.start+r.n
}

// least returns where on ring r its least point is, counted from the ring's start. Only chunks that reach as far left
// as the ring itself can hold it; left is the first of them, and mostly there is no other.
func (c *checker) least(r int) int32 {
	ring, x0 := c.rings[r], c.boxes[r].X0
	k := ring.start
	for i := int(c.left[r]); i < len(c.around) && c.chunks[i].ring == int32(r); i++ {
		if c.around[i].X0 != x0 {
			continue
		}
		from := c.chunks[i].first
		for e, p := range c.pts[from : from+c.chunks[i].n] {
			if p.Less(c.pts[k]) {
				k = from + int32(e)
			}
		}
	}
	return k - ring.start
}

// meets is 1 if the edge p→q may meet the box, and 0 if it lies wholly on one side of it: if for one side both
// differences are negative. A number, because who gathers edges that meet does better to count than to branch.
func meets(p, q geo.Pt, b *geo.Box) int {
	beside := (p.X-b.X0)&(q.X-b.X0) | (b.X1-p.X)&(b.X1-q.X) | (p.Y-b.Y0)&(q.Y-b.Y0) | (b.Y1-p.Y)&(b.Y1-q.Y)
	return 1 + int(beside>>63)
}

// edges compares edge i with edge j, whose boxes meet; on one ring i < j, of different rings ring is -1.
func (c *checker) edges(i, j, ring int32) {
	a, b, p, q := c.pts[i], c.pts[i+1], c.pts[j], c.pts[j+1]
	if ring >= 0 {
		r := c.rings[ring]
		switch {
		case j == i+1:
			c.bend(a, b, q)
			return
		case i == r.start && j == r.start+r.n-1:
			c.bend(p, a, b)
			return
		}
	}
	op, oq := orient(a, b, p, c.wide), orient(a, b, q, c.wide)
	if op > 0 && oq > 0 || op < 0 && oq < 0 {
		return
	}
	oa, ob := orient(p, q, a, c.wide), orient(p, q, b, c.wide)
	if oa > 0 && ob > 0 || oa < 0 && ob < 0 {
		return
	}
	// In contact. It is a mere touch if they share an end and nothing else.
	if shared := a == p || a == q || b == p || b == q; shared && (op != 0 || oq != 0 || endToEnd(a, b, p, q)) {
		c.worst = max(c.worst, touching)
		return
	}
	c.worst = crossed
}

// endToEnd says whether two edges of one line that share an end go apart from it.
func endToEnd(a, b, p, q geo.Pt) bool {
	if a != p && a != q {
		a, b = b, a
	}
	if a != p {
		p, q = q, p
	}
	return ahead(a, b, q) < 0
}

// bend looks at two edges that follow each other: a→b→c must not turn back on itself.
func (c *checker) bend(a, b, d geo.Pt) {
	if turnsBack(a, b, d) {
		c.worst = crossed
	}
}

// turnsBack says whether a→b→d turns back on itself at b.
func turnsBack(a, b, d geo.Pt) bool { return ahead(b, a, d) > 0 && geo.Orient(a, b, d) == 0 }

// ahead has the sign of (a-o)·(b-o) for three points of a line: do a and b lie on the same side of o?
func ahead(o, a, b geo.Pt) int64 {
	// On a line both coordinates agree about the side, except where one of them does not change.
	if a.X != o.X {
		return sign(a.X-o.X) * sign(b.X-o.X)
	}
	return sign(a.Y-o.Y) * sign(b.Y-o.Y)
}
