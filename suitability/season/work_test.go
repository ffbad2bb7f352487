package season

import (
	"testing"

	"rootworthy/suitability/caution"
)

// Every caution is told at some step; scouting has thresholds.
func TestCautionsStandWhereTheStepStands(t *testing.T) {
	told := map[string]bool{}
	for _, c := range Codes() {
		for _, x := range c.Cautions() {
			told[x.Code] = true
		}
		scouting := c == Crickets || c == Weevil || c == Armyworm
		if got := len(c.Thresholds()); (got > 0) != scouting {
			t.Errorf("%s has %d thresholds", c, got)
		}
	}
	for _, x := range caution.All() {
		if !told[x.Code] {
			t.Errorf("%q is told nowhere", x.Code)
		}
	}
}
