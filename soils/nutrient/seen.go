package nutrient

import "slices"

// Seen says how a figure was come by. It travels with the figure to every report.
type Seen string

// The ways.
const (
	Read     Seen = "read"                       // in the source named beside it
	Computed Seen = "computed"                   // from what was read
	Practice Seen = "common practice, no source" // the trade does it; no publication was found
	Memory   Seen = "memory"                     // remembered, not checked
	Users    Seen = "user"                       // the user's own table
)

// Seens lists them, the best founded first.
func Seens() []Seen { return []Seen{Read, Computed, Users, Practice, Memory} }

// known says whether a table's word for it is one of these; a word of its own would reach the reports and say nothing.
func (s Seen) known() bool { return slices.Contains(Seens(), s) }
