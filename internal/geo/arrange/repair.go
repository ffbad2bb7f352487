package arrange

import "github.com/paulmach/orb"

// Report counts what [Repair] found and mended in one multipolygon.
type Report struct {
	NotFinite        int     // points left out: NaN, infinite, or too far out for the grid
	Unclosed         int     // rings whose last point was not their first
	Repeated         int     // points equal to the one before, once on the grid
	Spikes           int     // points where a line ran back along itself
	ZeroArea         int     // rings that surround nothing on the grid
	WrongOrientation int     // outer rings drawn clockwise, holes drawn counter-clockwise
	DuplicateRings   int     // holes drawn twice, parts drawn twice
	Crossings        int     // places where edges cross
	SelfTouching     int     // places where a ring touches itself, or rings touch where they may not
	HolesOutside     int     // holes outside their outer ring
	Rebuilt          bool    // the rings had to be noded and rebuilt; else they were only tidied
	Tangled          bool    // more crossings than any boundary has: given up, nothing is left
	AreaBefore       float64 // units² of the input: outer rings less holes as drawn, before rounding
	AreaAfter        float64 // units² of the input, of what is returned
}

// Repair brings a multipolygon onto the grid of the given step (in units of its coordinates) and makes it valid.
func Repair(mp orb.MultiPolygon, step float64) (orb.MultiPolygon, Report) { return nil, Report{} }

// FromOrb rounds closed rings to the grid of the given step. ok is false if a coordinate is not finite or too far out.
// Nothing is repaired: repeated points are dropped and the closing point left out, no more.
func FromOrb(mp orb.MultiPolygon, step float64) (parts []Polygon, ok bool) { return nil, false }

// ToOrb gives polygons on the grid of the given step back as closed rings.
func ToOrb(parts []Polygon, step float64) orb.MultiPolygon { return nil }
