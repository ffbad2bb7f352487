// Package change sets two runs beside each other, ground with ground: last year's screening and this year's, a run by the survey and one
// by tests, a boundary before and after it was corrected.
//
//	c, err := change.Compare(ctx, before, after)
//	for _, f := range c.Fields {
//		for _, p := range f.Pairs { // what was zone p.A is now zone p.B on p.Area of ground
//		}
//	}
//
// Zones are paired by the ground they have in common and by nothing else. Their numbers go by area and move; a map unit may be several zones
// of a field where tests split it, and no longer the same unit where the survey was drawn anew. Fields are looked for on the ground too: one
// id may be two fields (numbers that a file counts up), and one field two ids.
//
// Nothing is lost: what a run has in a field is pairs, ground that the other run has not, and crumbs too small for the overlay to list.
package change
