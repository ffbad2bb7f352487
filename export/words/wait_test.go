package words

import (
	"strings"
	"testing"

	"rootworthy/suitability"
	"rootworthy/suitability/season"
)

// A wait of less than a month is told in days: rounded to months it read "0 months". Days by the mean month, 30.4 days.
func TestNoWaitReadsAsNoMonths(t *testing.T) {
	for months, want := range map[float64]string{0: "no wait", 0.01: "less than a day", 0.04: "1 day", 0.4: "12 days", 0.5: "15 days", 0.98: "30 days", 1: "1 month", 1.4: "1 month", 12: "12 months"} {
		if got := Months(months); got != want {
			t.Errorf("Months(%g) = %q, want %q", months, got, want)
		}
	}
	for days, want := range map[float64]string{0: "no wait", 14: "14 days", 15: "15 days", 31: "1 month", 365: "12 months"} {
		if got := WaitDays(days); got != want {
			t.Errorf("WaitDays(%g) = %q, want %q", days, got, want)
		}
	}
	for wait, want := range map[float64]string{0: "no wait for the last lime to work (", 0.4: "12 days for the last lime to work (", 12: "12 months for the last lime to work ("} {
		r := season.Rule{Name: season.AfterLime, Value: wait, Unit: "months", Status: suitability.Proposal}
		if got := SeasonRule(r); !strings.HasPrefix(got, want) {
			t.Errorf("a wait of %g: %q, want %q", wait, got, want)
		}
	}
	// A calendar never calls ground ready before the wait is over.
	for wait, want := range map[float64]int{0: 0, 0.4: 1, 1.2: 2, 12: 12} {
		if got := (suitability.LimeRules{Wait: suitability.Figure{Value: wait}}).WaitMonths(); got != want {
			t.Errorf("a wait of %g is counted as %d months, want %d", wait, got, want)
		}
	}
}
