package main

import (
	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// places reads where soil samples were taken from the laboratory's files. A run keeps what the tests said, not where
// each bag was filled. An id that stands at two places has none.
func (f *convertFlags) places(faults *diag.List) (map[string]orb.Point, error) {
	g, err := (&testFlags{tests: f.tests, mapping: f.mapping}).open(faults)
	if err != nil {
		return nil, err
	}
	places, unsure := map[string]orb.Point{}, map[string]bool{}
	for _, r := range g.results {
		for _, s := range r.Samples {
			p, ok := s.Place.Point.Get()
			if !ok || s.ID == "" {
				continue
			}
			if old, twice := places[s.ID]; twice && old != p {
				unsure[s.ID] = true
			}
			places[s.ID] = p
		}
	}
	for id := range unsure {
		delete(places, id)
	}
	return places, nil
}
