package arrange

import "rootworthy/internal/geo"

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
	Overlap           // two parts share ground or an edge
)

// Finding is the first fault found: its kind, the ring it is in, and where. The zero Finding means valid.
type Finding struct {
	Kind Kind
	Part int // index of the polygon; always 0 from Check
	Ring int // index of the ring in it
	At   geo.Pt
}

// OK says that nothing is wrong.
func (f Finding) OK() bool { return f.Kind == Valid }

// Checker tests rings for validity and keeps its memory between calls. The zero Checker is ready; one per goroutine.
type Checker struct{}

// Check says whether rings (the first one the outer ring, not repeated at the end, any starting point) are one valid
// polygon, and if not, what is wrong and where. Exact. Direction is the last thing looked at: a Finding of
// kind Direction means that the polygon is valid but for it. The rings are only read.
func (c *Checker) Check(rings [][]geo.Pt) Finding { return Finding{} }

// Check is [Checker.Check] for a single call.
func Check(rings [][]geo.Pt) Finding { return new(Checker).Check(rings) }

// CheckAll says whether parts are one valid multipolygon: each is valid, and they share no ground and no edges.
func CheckAll(parts []Polygon) Finding { return Finding{} }
