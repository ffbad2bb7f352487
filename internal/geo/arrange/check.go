package arrange

import (
	"fmt"

	"rootworthy/internal/geo"
)

// Kind says what makes rings no valid polygon. The zero value is Valid.
type Kind uint8

// The kinds of fault, as OGC Simple Features has them, and direction besides.
const (
	Valid        Kind = iota
	Empty             // no ring at all
	TooFew            // fewer than three points in a ring
	Repeated          // two equal points in a row
	Spike             // an edge that turns back along the one before
	Crossing          // two edges cross, or run along each other
	SelfTouch         // a ring meets itself in a point
	Disconnected      // rings touch so that they cut the ground in two
	HoleOutside       // a hole outside the outer ring
	NestedHole        // a hole inside another hole
	Direction         // an outer ring that runs clockwise or a hole that does not
	Overlap           // two parts share ground or a stretch of line
)

var kindNames = [...]string{"valid", "no ring", "ring of fewer than three points", "repeated point", "spike",
	"lines cross", "ring touches itself", "rings cut the ground in two", "hole outside its outer ring",
	"hole inside a hole", "ring runs the wrong way", "parts overlap"}

func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return fmt.Sprintf("kind %d", uint8(k))
}

// Finding is the first fault found: its kind, the ring it is in, and where. The zero Finding means valid.
type Finding struct {
	Kind Kind
	Part int // index of the polygon; always 0 from Check
	Ring int // index of the ring in it
	At   geo.Pt
}

// OK says that nothing is wrong.
func (f Finding) OK() bool { return f.Kind == Valid }

// Check says whether rings (the first one the outer ring, not repeated at the end, any starting point) are one valid
// polygon, and if not, what is wrong and where. Exact. Direction is the last thing looked at: a Finding of
// kind Direction means that the polygon is valid but for it. The rings are only read.
func (c *Checker) Check(rings [][]geo.Pt) Finding {
	c.reset()
	c.add(rings, 0)
	return c.verdict()
}

// Check is [Checker.Check] for a single call.
func Check(rings [][]geo.Pt) Finding { return new(Checker).Check(rings) }

// CheckAll says whether parts are one valid multipolygon: each is valid, and they share no ground and no stretch of
// line. They may touch in points.
func CheckAll(parts []Polygon) Finding {
	if len(parts) == 0 {
		return Finding{Kind: Empty}
	}
	c := new(Checker)
	for i, p := range parts {
		c.add(p, i)
	}
	f := c.verdict()
	if f.OK() && len(parts) > 1 {
		return c.sharedGround()
	}
	return f
}

// reset forgets the rings, not the memory.
func (c *Checker) reset() {
	clear(c.rings)
	c.rings, c.chains, c.touches, c.cuts = c.rings[:0], c.chains[:0], c.touches[:0], c.cuts[:0]
	c.bad = c.bad[:0]
}

// add takes in the rings of a part. Faults within a ring's own chains are found at once.
func (c *Checker) add(rings [][]geo.Pt, part int) {
	if len(rings) == 0 {
		c.report(Finding{Kind: Empty, Part: part})
	}
	for i, r := range rings {
		c.rings = append(c.rings, ringOf{points: r, part: int32(part), index: int32(i), first: int32(len(c.chains))})
		c.cutChains(int32(len(c.rings) - 1))
	}
}

// verdict runs the tests in order and returns the first fault. Each test relies on what the ones before have shown.
func (c *Checker) verdict() Finding {
	for _, test := range [...]func(){func() {}, c.meetings, c.connected, c.nesting, c.directions} {
		if test(); len(c.bad) > 0 {
			return c.bad[0]
		}
	}
	return Finding{}
}

// report notes a fault.
func (c *Checker) report(f Finding) { c.bad = append(c.bad, f) }

// fault notes a fault of a ring.
func (c *Checker) fault(kind Kind, ring int32, at geo.Pt) {
	r := &c.rings[ring]
	c.report(Finding{kind, int(r.part), int(r.index), at})
}

// done says that enough faults are known: one, or as many as wanted.
func (c *Checker) done() bool { return len(c.bad) > c.more }

// directions looks at each ring where its least point is: it turns there the way it runs as a whole.
func (c *Checker) directions() {
	for i := range c.rings {
		r := &c.rings[i]
		k := c.leastPoint(int32(i))
		n := len(r.points)
		ccw := geo.Orient(r.points[(k+n-1)%n], r.points[k], r.points[(k+1)%n]) > 0
		if ccw != (r.index == 0) {
			c.fault(Direction, int32(i), r.points[k])
		}
	}
}

// leastPoint returns the index of the least point of a ring, which lies in one of its leftmost chains.
func (c *Checker) leastPoint(ring int32) int {
	chains := c.chainsOf(ring)
	left := chains[0].X0
	for _, ch := range chains {
		left = min(left, ch.X0)
	}
	points := c.rings[ring].points
	best := -1
	for _, ch := range chains {
		if ch.X0 > left {
			continue
		}
		for i := ch.start; i < ch.start+ch.n; i++ { // the last point of a chain is the first of another
			if best < 0 || points[i].Less(points[best]) {
				best = int(i)
			}
		}
	}
	return best
}

// sharedGround looks for ground that two parts cover, when edges of different parts do no more than touch: it cuts them
// where they touch, which needs no rounding, and counts how often faces are covered.
func (c *Checker) sharedGround() Finding {
	l := newLines()
	for i := range c.rings {
		l.addRing(c.rings[i].points, 0)
	}
	l.merge()
	l.cut(c.cuts)
	l.merge()
	lb := l.noded()
	for e, v := range lb.over {
		if x := lb.winds.vecs[v]; len(x) > 0 && x[0].count > 1 {
			at, _ := lb.ends(int32(e))
			return Finding{Kind: Overlap, At: at}
		}
	}
	return Finding{}
}
