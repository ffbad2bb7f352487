package words

import (
	"strings"
	"time"
)

// Date prints a day as people write it: "2026-04-02" becomes "April 2, 2026". What is no such day is left as it is.
func Date(day string) string {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return day
	}
	return t.Format("January 2, 2006")
}

// Window prints a span of days: "2028-09-15/2028-10-31" becomes "September 15 to October 31, 2028".
func Window(span string) string {
	first, last, ok := strings.Cut(span, "/")
	if !ok {
		return Date(span)
	}
	a, errA := time.Parse(time.DateOnly, first)
	b, errB := time.Parse(time.DateOnly, last)
	if errA != nil || errB != nil {
		return span
	}
	if a.Equal(b) {
		return Date(last) + " alone"
	}
	if a.Year() == b.Year() {
		return a.Format("January 2") + " to " + Date(last)
	}
	return Date(first) + " to " + Date(last)
}
