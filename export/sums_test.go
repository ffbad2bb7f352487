package export_test

import (
	"math"
	"testing"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Areas and lime mass are conserved from zones to fields.
func TestSumsConserve(t *testing.T) {
	r := quillmoor.Result()
	var byClass, byToday, zones unit.Area
	var lime, want unit.Mass
	for _, s := range export.Sums(r) {
		for _, c := range suitability.Classes() {
			byClass += s.ByClass.Of(c)
			byToday += s.ByToday.Of(c)
		}
		lime += s.Likely
	}
	for _, z := range r.Zones {
		zones += z.Area
		want += z.Lime.Likely.Or(0).Over(z.Area)
	}
	for name, pair := range map[string][2]float64{"class": {float64(byClass), float64(zones)}, "today": {float64(byToday), float64(zones)}, "lime": {float64(lime), float64(want)}} {
		if math.Abs(pair[0]-pair[1]) > 1e-9*pair[1] { // float64 over some ten sums
			t.Errorf("%s adds up to %v, want %v", name, pair[0], pair[1])
		}
	}
}

// Rank 0 is no rank.
func TestRankIsByShareThenScore(t *testing.T) {
	// Q1 is three quarters suited, Q2 an eighth; Q5 and Q3 not at all, but Q5 scores better; Q4 has no answer.
	want := map[string]int{"Q1": 1, "Q2": 2, "Q5": 3, "Q3": 4, "Q4": 0}
	for _, s := range export.Sums(quillmoor.Result()) {
		if s.Rank != want[s.Field.ID] {
			t.Errorf("%s has rank %d, want %d", s.Field.ID, s.Rank, want[s.Field.ID])
		}
	}
}

// Areas in the order of the classes, with the part outside the survey after them.
func TestClassOfAFieldIsThatOfItsLargestPart(t *testing.T) {
	field := &suitability.Field{Area: 100}
	for _, c := range []struct {
		name                                string
		unrated, suited, marginal, unsuited unit.Area
		outside                             unit.Area
		want                                suitability.Class
	}{
		{"largest", 0, 50, 30, 20, 0, suitability.Suited},
		{"tie goes to the worse", 0, 50, 50, 0, 0, suitability.Marginal},
		{"outside counts as not rated", 10, 40, 0, 0, 50, suitability.NotRated},
		{"a tie with not rated is an answer", 0, 50, 0, 0, 50, suitability.Suited},
		{"nothing", 0, 0, 0, 0, 0, suitability.NotRated},
	} {
		field.Uncovered = c.outside
		s := export.Sum{Field: field, ByClass: export.Areas{c.unrated, c.suited, c.marginal, c.unsuited}}
		if got := s.Class(); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
