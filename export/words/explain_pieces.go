package words

import (
	"fmt"

	"github.com/paulmach/orb/geo"

	"rootworthy/soils/unit"
)

// mostPieces is how many pieces of a zone are listed; a stream bank can make hundreds.
const mostPieces = 8

// pieces lists the parts of the zone with where they lie. The area of the zone is divided among them by their areas on a
// sphere: those are off by some tenths of a percent, but alike for all pieces of one field. A zone without its shape
// lists none.
func (e *explanation) pieces() {
	shape := e.z.Shape
	whole := geo.Area(shape)
	if whole <= 0 {
		return
	}
	for i, piece := range shape[:min(len(shape), mostPieces)] {
		// The middle of its box: near enough to find the piece on a map, though a bent piece may not hold it.
		at := piece.Bound().Center()
		area := unit.Area(float64(e.z.Area) * geo.Area(piece) / whole)
		e.line(fmt.Sprintf("  Piece %d: %s around latitude %.5f, longitude %.5f", i+1, acresAndHectares(area), at[1], at[0]))
	}
	if more := len(shape) - mostPieces; more > 0 {
		e.line("  and " + count(more, "more piece", "more pieces"))
	}
}
