// Package managementzone divides ground by a surface, such as pH or a lime rate, into a few zones that a machine can
// follow.
//
// A map of rates by the cell asks a spreader for changes it cannot make. So ground is first cut into blocks as wide as
// the machine needs, then the blocks' means are parted where they differ most (the split with the least sum of squares
// there is), small patches go to the neighbour most like them, and a zone more must be worth it. A field that does
// not vary stays whole.
//
//	s, err := managementzone.Divide(ctx, surface, managementzone.Options{Most: 3, Width: 20})
//	s.Zones                    // mean, range and area of each, lowest first
//	s.Explained                // share of the surface's variance that the zones hold
//	shapes, err := s.Shapes(ctx)
//
// Zones follow whole cells; whoever needs the field's own edge cuts them with it.
package managementzone
