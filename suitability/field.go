package suitability

import (
	"encoding/json"

	"github.com/paulmach/orb"

	"rootworthy/soils/unit"
)

// Attribute is one property of a boundary as the user's file had it.
type Attribute struct {
	Name  string
	Value json.RawMessage
}

// Field is one boundary from the user with what was found in it. An excluded part is no hole in the answer but ground that the user took
// out: it counts in no area but Excluded.
type Field struct {
	ID, Name, Customer, Farm           string
	Attributes                         []Attribute      // the user's, in their order
	Shape                              orb.MultiPolygon // as used: repaired, excluded parts cut out, with every vertex that a zone puts on it
	Outside                            orb.MultiPolygon // the part that the survey does not cover
	Area, Uncovered, Doubled, Excluded unit.Area        // Doubled: covered by two survey polygons at once
	Zones                              []int            // indexes into Result.Zones, by number
	Trouble                            string           // why it has no answer: "outside the survey", or what could not be repaired; "" when it has one
	Partly                             bool             // partly outside the survey
	Drained                            bool             // the user declares drainage works
	Repairs                            []string         // what was repaired, in words
}
