package arrange

// Report counts what [Repair] found and mended in one multipolygon. The zero Report, areas aside, means that nothing was
// wrong.
type Report struct {
	NotFinite        int     // points left out: NaN, infinite, or too far out for the grid
	Unclosed         int     // rings whose last point was not their first
	Repeated         int     // points equal to the one before, once on the grid
	Spikes           int     // points where a line ran back along itself
	ZeroArea         int     // rings that surround nothing on the grid
	WrongOrientation int     // outer rings drawn clockwise, holes drawn counter-clockwise
	DuplicateRings   int     // holes drawn twice, parts drawn twice
	Crossings        int     // places where edges of a part cross or run along each other
	SelfTouching     int     // places where a ring touches itself, or rings touch where they may not
	HolesOutside     int     // holes outside their outer ring
	NestedHoles      int     // holes inside a hole of the same part
	Overlapping      bool    // parts share ground or a stretch of line
	Rebuilt          bool    // the rings were noded and rebuilt; else they were only tidied
	Tangled          bool    // more crossings than any boundary has: given up, nothing is left
	AreaBefore       float64 // units² of the input: outer rings less holes as drawn (lobes of a bow-tie cancel)
	AreaAfter        float64 // units² of the input, of what is returned
}

// Sound says that the input was valid apart from its directions, closing points, repeated points and spikes: its ground
// is what was drawn.
func (r Report) Sound() bool {
	return !r.Rebuilt && !r.Tangled && r.NotFinite == 0 && r.DuplicateRings == 0
}

// count adds the faults of the parts.
func (r *Report) count(faults []Finding) {
	seen := map[Finding]bool{}
	for _, f := range faults {
		if f.Ring = 0; f.Kind == HoleOutside || f.Kind == NestedHole || !seen[f] {
			seen[f] = true
			switch f.Kind {
			case Crossing:
				r.Crossings++
			case SelfTouch, Disconnected:
				r.SelfTouching++
			case HoleOutside:
				r.HolesOutside++
			case NestedHole:
				r.NestedHoles++
			}
		}
	}
}
