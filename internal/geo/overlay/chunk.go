package overlay

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

// offset is a point relative to the origin of its polygon. Half the memory of a geo.Pt, and enough for 107 km.
type offset struct{ x, y int32 }

// offbox is a box of offsets, its edges included.
type offbox struct{ x0, y0, x1, y1 int32 }

// meets is 1 if a and b have a point in common and 0 if not, as geo.Box.Meets; differences of offsets need 33 bits.
func (a *offbox) meets(b *offbox) int {
	ax0, ay0, ax1, ay1 := int64(a.x0), int64(a.y0), int64(a.x1), int64(a.y1)
	bx0, by0, bx1, by1 := int64(b.x0), int64(b.y0), int64(b.x1), int64(b.y1)
	return 1 + int(((bx1-ax0)|(ax1-bx0)|(by1-ay0)|(ay1-by0))>>63)
}

func (a *offbox) grow(b offbox) {
	a.x0, a.y0, a.x1, a.y1 = min(a.x0, b.x0), min(a.y0, b.y0), max(a.x1, b.x1), max(a.y1, b.y1)
}
