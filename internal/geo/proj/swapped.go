package proj

import "github.com/paulmach/orb"

// LooksSwapped tells whether data look as if their latitudes stood where longitudes belong: their bound does not meet
// that of the survey, and would with x and y exchanged. A bound that is no place on Earth as it stands (a latitude of
// -93) counts as not meeting. It is a suspicion for a message, no reason to exchange anything.
func LooksSwapped(data, survey orb.Bound) bool {
	swapped := orb.Bound{Min: orb.Point{data.Min[1], data.Min[0]}, Max: orb.Point{data.Max[1], data.Max[0]}}
	return !data.IsEmpty() && !survey.IsEmpty() && !survey.Intersects(data) && survey.Intersects(swapped)
}
