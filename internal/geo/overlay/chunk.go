package overlay

import "rootworthy/internal/geo"

// A ring is kept as its points with the first one repeated at the end, so that edge i runs from point i to point i+1,
// and begins at a multiple of chunk. Its edges are boxed in chunks of eight, and sixteen chunks (of whatever rings) in
// a super chunk:
//
//	points   0 1 2 3 4 5 6 7 8 9 10 0 · · · · ·   0 1 2 …
//	edges    └── chunk 0 ──┘└ chunk 1 ┘ (unused)  └─ chunk 2 …
//
// Point 8 ends the last edge of chunk 0 and begins chunk 1. Unused places hold nothing of meaning; the
// number of edges in each chunk is kept, so nobody looks at them.
const (
	chunk      = 8
	superChunk = 16
)

// span is where a ring is: its edges are start … start+n-1, its points start … start+n.
type span struct{ start, n int32 }

// padded rounds n up to a multiple of chunk.
func padded(n int) int { return (n + chunk - 1) &^ (chunk - 1) }

// offset is a point relative to the origin of its polygon. Half the memory of a geo.Pt, and enough for 107 km. Neither
// number is negative: the origin lies to the lower left of the polygon.
type offset struct{ x, y int32 }

// offbox is a box of offsets, its edges included.
type offbox struct{ x0, y0, x1, y1 int32 }

func (a *offbox) grow(b offbox) {
	a.x0, a.y0, a.x1, a.y1 = min(a.x0, b.x0), min(a.y0, b.y0), max(a.x1, b.x1), max(a.y1, b.y1)
}

// Both numbers of an offset are compared at once, as halves of one word, x below y. Half a is not less than half b if
// the free bit above it is still set after
//
//	a + 2^31 - b
//
// As no half is negative, nothing is carried or borrowed from one to the other.
const freeBits = 1<<31 | 1<<63

func (p offset) word() uint64 { return pack(p.x, p.y) }

// pack is written so that compilers read both numbers, where they lie side by side in memory, at once.
func pack(x, y int32) uint64 { return uint64(uint32(x)) | uint64(uint32(y))<<32 }

// corners are the lower left and the upper right corner of a box, as words.
type corners struct{ lo, hi uint64 }

func (a *offbox) corners() corners { return corners{pack(a.x0, a.y0), pack(a.x1, a.y1)} }

// cornersOf counts from x, y, which lie to the lower left of b, and not 2^31 units from any side of it.
func cornersOf(b *geo.Box, x, y int64) corners {
	return corners{uint64(b.X0 - x | (b.Y0-y)<<32), uint64(b.X1 - x | (b.Y1-y)<<32)}
}

// pane is a box to compare others with: its corners with the free bits taken off one and put on the other.
type pane corners

func (c corners) pane() pane { return pane{c.lo - freeBits, c.hi + freeBits} }

func (a *offbox) pane() pane { return a.corners().pane() }

// meetsCorners is meets where it is to be branched on.
func (p *pane) meetsCorners(c *corners) bool {
	return (c.hi-p.lo)&(p.hi-c.lo)&freeBits == freeBits
}

// meets is 1 if p and b have a point in common and 0 if not, as geo.Box.Meets. A number, because who gathers boxes that
// meet does better to count than to branch.
func (p *pane) meets(b *offbox) int {
	c := b.corners()
	t := (c.hi - p.lo) & (p.hi - c.lo)
	return int(t >> 31 & (t >> 63))
}

// edgesIn lists the edges along pts, at most chunk, that may meet a: those that do not lie wholly on one side of it. It
// returns how many there are. An edge is 0 for the one that begins at the first point, and so on.
func (a *offbox) edgesIn(pts []offset, edges *[chunk]int) (n int) {
	p := a.pane()
	w := pts[0].word()
	above, below := w-p.lo, p.hi-w // free bits are set where the point is not beyond that side
	for i, q := range pts[1:] {
		w = q.word()
		lo, hi := w-p.lo, p.hi-w
		edges[n&(chunk-1)] = i
		t := (above | lo) & (below | hi)
		n += int(t >> 31 & (t >> 63))
		above, below = lo, hi
	}
	return n
}
