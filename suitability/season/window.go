package season

import (
	"time"

	"rootworthy/suitability"
)

// Window is a span of days of one season, both ends included, at midnight UTC.
type Window struct{ First, Last time.Time }

// String prints the window as an ISO 8601 interval of days: "2027-09-15/2027-10-15".
func (w Window) String() string { return "" }

// Earliest returns the earliest window on or after a day: the first that has not ended by then, beginning at that day
// when it falls within.
func Earliest(s suitability.SowingWindow, from time.Time) Window { return Window{} }

// Region finds a sowing window of the profile by the name of its region, in any case; ok is false for an unknown one.
func Region(p *suitability.Profile, name string) (w suitability.SowingWindow, ok bool) {
	return w, false
}

// AddMonths returns the same day n months later, or the last day of that month where it has no such day.
func AddMonths(day time.Time, n int) time.Time { return day }

// ParseDay reads a date as "2026-11-25".
func ParseDay(s string) (time.Time, error) { return time.Time{}, nil }
