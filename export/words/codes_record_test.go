package words

import (
	"slices"
	"testing"

	"rootworthy/soils/unit"
	"rootworthy/suitability/stand"
)

// The record shows a value in the words of its unit; pH is a number without one, and a kind without a value, as a cutting, is told by its
// name alone.
func TestEveryLineOfTheRecordHasWords(t *testing.T) {
	checkWords(t, "record kinds", texts(stand.Kinds()), recordKinds())
	var units []string
	for _, k := range stand.Kinds() {
		for _, u := range k.Units() {
			if !slices.Contains(units, u) {
				units = append(units, u)
			}
		}
	}
	checkWords(t, "record units", units, recordUnits())
	for _, c := range []struct {
		r    stand.Record
		want string
	}{
		{stand.Record{Kind: stand.Stems, Value: unit.Some(48.0), Unit: "per_ft2"}, "stems counted: 48 in a square foot"},
		{stand.Record{Kind: stand.SoilPH, Value: unit.Some(6.4), Unit: "ph"}, "soil tested (pH): 6.4"},
		{stand.Record{Kind: "cut"}, "cut"},
	} {
		if got := Record(c.r); got != c.want {
			t.Errorf("Record(%v) = %q, want %q", c.r, got, c.want)
		}
	}
}
