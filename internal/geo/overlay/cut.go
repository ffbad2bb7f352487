package overlay

import (
	"github.com/paulmach/orb"

	"rootworthy/internal/geo/arrange"
)

// SliverArea is the area in m² below which a piece is not listed. Neighbours drawn on the same line often overlap by
// a hair; what they share stays in the sums. A tenth of a square foot: no zone of a field is that small.
const SliverArea = 0.01

// Options says what Run works out besides the pieces. The zero value is right for areas and shapes of pieces.
type Options struct {
	Workers  int            // goroutines; 0 means one per CPU
	Dissolve bool           // pieces of one key in a field become one, without inner edges, Polygon = -1
	Gaps     bool           // fill Gaps and Overlaps with the geometry of uncovered and doubly covered ground
	Boundary bool           // fill Boundary
	Reuse    bool           // shapes are good only until emit returns; their memory is then used again, which saves a tenth
	Progress func(done int) // called after each field with how many are done; nil means silent; never concurrently

	listAll   bool // for tests: list slivers too
	forceWide bool // for tests: 128 bits where 64 would do
}

// Piece is the ground that one survey polygon (or with Dissolve, one key) has in one field.
type Piece struct {
	Field   int              // as given to Run
	Polygon int              // number of the survey polygon in the order of adding; -1 after Dissolve
	Key     uint32           // as given to Add
	Area    float64          // m², exact for Shape on the grid
	Shape   orb.MultiPolygon // metres; OGC valid, outer rings counterclockwise, canonical order of rings and parts
}

// Cut is what the coverage does to one field. Areas are m² and obey
//
//	sum of all pieces (slivers too) + Uncovered - Doubled = Area
//
// to 1e-9 of Area + Doubled: counted in grid units it holds exactly, and float64 rounds each term. Area is that of
// Boundary: the field on the grid, with the points in which survey lines cross its edge. These points are rounded to the
// grid, so it differs from the area of the field as given by at most 0.05 mm × perimeter.
//
// Pieces of one field share their common points bit for bit, so they still fit after the caller projects them.
type Cut struct {
	Field     int // as given to Run
	Area      float64
	Uncovered float64 // ground of the field that no polygon covers
	Doubled   float64 // ground that several polygons (with Dissolve, several keys) cover, counted once less than there are
	Pieces    []Piece // by Key, then by geometry; slivers (SliverArea) are left out here but not in the sums
	Slivers   float64 // their area
	Rebuilt   int     // pieces that touch themselves or were crossed by rounding, and had to be put together anew

	Boundary orb.MultiPolygon // the field with every point that a piece puts on its edge; only with Options.Boundary
	Gaps     orb.MultiPolygon // uncovered ground, parts below SliverArea left out; only with Options.Gaps
	Overlaps orb.MultiPolygon // ground covered more than once, likewise
	Repair   *Repair          // what was wrong with the field's shape; nil if nothing
}

// Repair tells what was wrong with a shape that was made valid. Open rings, repeated points and the direction of rings
// are put right without a word.
type Repair struct {
	Number        int          // number of the survey polygon, or the field as given to Run
	Dropped       int          // points of a field that were no numbers or off the grid
	Tangled       bool         // it crosses itself more often than any boundary does: given up, no ground is left
	Kind          arrange.Kind // the first fault that was found; Valid if there was none but that
	At            orb.Point    // where, in metres
	Before, After float64      // m²: the sum of its rings as given, and the area once made valid
}
