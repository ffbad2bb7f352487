// Package suitability says which ground will hold a stand of alfalfa: it rates the components of a map unit against a
// crop profile, gives each zone of a field its class, and says what limits it and whether that can be corrected.
//
// A component is rated on its own, because the average of a wet and a dry soil describes neither. Its class is that
// of its worst criterion (the law of the minimum); the class of a zone is the one that holds the largest percent of
// its rated components. A known unsuited value decides whatever is missing; otherwise a missing core value leaves the
// component not rated, never zero.
//
//	p := suitability.DefaultProfile()
//	r := p.RateUnit(unit, suitability.RateOptions{})
//	r.Class       // once correctable acidity of the surface is corrected
//	r.ClassToday  // the ground as it is
//	r.Limiting    // what limits it, "" when suited
//
// All numbers stand in a [Profile], each with its source and status; all words come last, from stable codes.
package suitability
