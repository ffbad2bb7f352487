package main

import (
	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/suitability/limeplan"
)

// places reads where soil samples were taken from the laboratory's files. A run keeps what the tests said, not where
// each bag was filled. An id that stands at two places has none.
func (f *convertFlags) places(faults *diag.List) (map[string]orb.Point, error) {
	g, err := (&testFlags{tests: f.tests, mapping: f.mapping}).open(faults)
	if err != nil {
		return nil, err
	}
	// Keyed by the sample's id; unsure ids are taken out only at the end, since a third bag of that id must not bring it back.
	places, unsure := map[string]orb.Point{}, map[string]bool{}
	for _, r := range g.results {
		for _, s := range r.Samples {
			p, ok := s.Place.Point.Get()
			id := limeplan.SampleID(&s) // as the run calls it
			if !ok || id == "" {
				continue
			}
			// Two laboratories may number their bags alike; a bag drawn at the wrong one of two places is worse than none.
			if old, twice := places[id]; twice && old != p {
				unsure[id] = true
			}
			places[id] = p
		}
	}
	for id := range unsure {
		delete(places, id)
	}
	return places, nil
}
