// Package whatif moves the limits of a crop profile, to see what would change if the trade drew a line elsewhere.
//
//	profile, err := whatif.Apply(profile, map[string]float64{"depth.suited": 90})
//
// Only a limit moves, the value at which a score comes to the mark of a class; it stays between its neighbours on the
// curve, so that the profile remains one.
package whatif
