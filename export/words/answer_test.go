package words

import (
	"testing"

	"rootworthy/suitability"
)

// The counts of a tally read as one sentence: singular and plural agree, a run of one field has no "1 of 1", classes without a field are
// not named, and lime is told only of the fields that are suited.
func TestHeadline(t *testing.T) {
	of := func(suited, marginal, unsuited, unrated, once, unanswered int) tally {
		var k tally
		k.byClass[suitability.Suited], k.byClass[suitability.Marginal], k.byClass[suitability.Unsuited] = suited, marginal, unsuited
		k.byClass[suitability.NotRated], k.once, k.unanswered = unrated, once, unanswered
		return k
	}
	for _, c := range []struct {
		t    tally
		want string
	}{
		{of(3, 1, 0, 0, 3, 1), "3 of 5 fields look suited once limed; 1 looks marginal and 1 has no answer."},
		{of(3, 1, 1, 0, 1, 0), "3 of 5 fields look suited, 1 of them only once limed; 1 looks marginal and 1 looks unsuited."},
		{of(2, 0, 0, 0, 0, 0), "2 of 2 fields look suited as they are."},
		{of(1, 0, 2, 1, 0, 0), "1 of 4 fields looks suited as it is; 2 look unsuited and 1 could not be rated."},
		{of(0, 0, 1200, 0, 0, 3), "None of 1,203 fields looks suited; 1,200 look unsuited and 3 have no answer."},
		{of(1, 0, 0, 0, 1, 0), "The field looks suited once limed."},
		{of(0, 1, 0, 0, 0, 0), "The field looks marginal."},
		{of(0, 0, 0, 0, 0, 1), "The field has no answer."},
		{of(0, 0, 0, 1, 0, 0), "The field could not be rated."},
		{tally{}, "There are no fields to look at."},
	} {
		// Each field is in one class or has no answer; once only tells apart some of the suited and adds no field.
		n := c.t.unanswered
		for _, k := range c.t.byClass {
			n += k
		}
		if got := headline(c.t, n); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}
