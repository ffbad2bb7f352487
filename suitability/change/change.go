package change

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Ground is what a run makes of a piece of ground: an index into Result.Zones, or one of the two values below.
type Ground int

const (
	Outside Ground = -1 // in a field of the run, but the survey does not cover it
	Nowhere Ground = -2 // in no field of the run
)

// Zone returns the zone of a run that the ground is; nil where it is none.
func (g Ground) Zone(r *suitability.Result) *suitability.Zone {
	if g < 0 {
		return nil
	}
	return &r.Zones[g]
}

// Pair is ground that is one thing in the first run and one thing in the second. One of the two may be Nowhere, never both.
type Pair struct {
	A, B Ground
	Area unit.Area // in the plane, of the shapes as the runs hold them
	// Small is how much of Area lies in parts that nobody can act on, see [Least] and [Narrow].
	Small unit.Area
}

// Fields are fields of the two runs that lie on one another: mostly one of each, several where fields were split or joined, none on one side
// where the other run has no such field.
//
// For each run the pairs in which it has ground add up, with the crumbs, to its area and what is doubled, to 0.05 mm times the length of all
// lines: points in which lines of the two runs cross are rounded to the grid of the plane.
type Fields struct {
	A, B    []int        // indexes into Result.Fields, rising
	Pairs   []Pair       // by A, then B
	Areas   [2]unit.Area // of zones and of ground outside the survey, by run
	Crumbs  [2]unit.Area // of it in pieces below overlay.SliverArea, which are in no pair
	Doubled [2]unit.Area // of it under several zones of the other run, counted once less than there are: its survey has the ground twice
}

// Comparison is two runs, ground with ground.
type Comparison struct {
	A, B   *suitability.Result
	Fields []Fields // in the order of the first run, then those of the second alone
}
