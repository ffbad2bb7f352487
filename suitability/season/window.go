package season

import (
	"fmt"
	"strings"
	"time"

	"rootworthy/suitability"
)

// Window is a span of days of one season, both ends included, at midnight UTC.
type Window struct{ First, Last time.Time }

// String prints the window as an ISO 8601 interval of days: "2027-09-15/2027-10-15".
func (w Window) String() string { return Day(w.First) + "/" + Day(w.Last) }

// Day prints a date as "2027-09-15".
func Day(t time.Time) string { return t.Format(time.DateOnly) }

// Earliest returns the earliest window on or after a day: the first that has not ended by then. When the day falls
// within a window, what is left of it begins at that day.
func Earliest(s suitability.SowingWindow, from time.Time) Window {
	from = midnight(from)
	// It ends: each year has one window, and by the year after next one lies ahead.
	for year := from.Year() - 1; ; year++ { // a window may run over the new year
		w := inYear(s, year)
		if w.Last.Before(from) {
			continue
		}
		if w.First.Before(from) {
			w.First = from
		}
		return w
	}
}

// inYear returns the window that opens in a year.
func inYear(s suitability.SowingWindow, year int) Window {
	on := func(year int, d suitability.MonthDay) time.Time {
		return time.Date(year, d.Month, d.Day, 0, 0, 0, 0, time.UTC)
	}
	w := Window{on(year, s.First), on(year, s.Last)}
	// November to January ends in the year after it began.
	if w.Last.Before(w.First) {
		w.Last = on(year+1, s.Last)
	}
	return w
}

// midnight takes the time of day and the zone off a day.
func midnight(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// Region finds a sowing window of the profile by the name of its region, in any case, with hyphens or blanks. The error names the
// regions.
func Region(p *suitability.Profile, name string) (suitability.SowingWindow, error) {
	names := make([]string, len(p.Windows))
	for i, w := range p.Windows {
		// people write "Coastal Plain", files coastal-plain
		if plainRegion(w.Region) == plainRegion(name) {
			return w, nil
		}
		names[i] = fmt.Sprintf("%q", w.Region)
	}
	if len(names) == 0 {
		return suitability.SowingWindow{}, fmt.Errorf("the crop profile has no sowing windows")
	}
	return suitability.SowingWindow{}, fmt.Errorf("%q is not a region of the crop profile; it has %s", name, strings.Join(names, ", "))
}

// plainRegion makes the name of a region fit to be compared.
func plainRegion(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == ' ' || r == '-' || r == '_' }), " ")
}

// AddMonths returns the same day n months later, or the last day of that month where it has no such day: a year after
// the 29th of February is the 28th.
func AddMonths(day time.Time, n int) time.Time {
	y, m, d := day.Date()
	// from the first of the month: AddDate would carry the 31st of a short month into the next
	first := time.Date(y, m+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return time.Date(first.Year(), first.Month(), min(d, last), 0, 0, 0, 0, time.UTC)
}

// ParseDay reads a date as "2026-11-25", from 1900 to 2200: beyond, it is a slip of the pen.
func ParseDay(s string) (time.Time, error) {
	t, err := time.Parse(time.DateOnly, s)
	switch {
	case err != nil:
		return time.Time{}, fmt.Errorf(`%q is not a date; write year, month and day as "2026-11-25"`, s)
	case t.Year() < 1900 || t.Year() > 2200:
		return time.Time{}, fmt.Errorf("%q is out of reach; give a day from 1900 to 2200", s)
	}
	return t, nil
}
