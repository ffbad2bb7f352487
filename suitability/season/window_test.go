package season

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rootworthy/suitability"
)

// day is a date of a test's own table.
func day(t *testing.T, s string) time.Time {
	t.Helper()
	d, err := ParseDay(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// The windows of Georgia: mountains and piedmont 15 September to 15 October, coastal plain 15 October to 15 November.
// Source: UGA (Wood; Colquitt County; Tucker); read.
func TestEarliest(t *testing.T) {
	p := suitability.DefaultProfile()
	turn := suitability.SowingWindow{First: suitability.MonthDay{Month: 12, Day: 15}, Last: suitability.MonthDay{Month: 1, Day: 15}}
	for _, c := range []struct{ region, from, want string }{
		{"piedmont", "2026-11-25", "2027-09-15/2027-10-15"},
		{"Piedmont ", "2027-09-15", "2027-09-15/2027-10-15"},
		{"piedmont", "2027-10-01", "2027-10-01/2027-10-15"}, // what is left of it
		{"piedmont", "2027-10-15", "2027-10-15/2027-10-15"},
		{"piedmont", "2027-10-16", "2028-09-15/2028-10-15"},
		{"coastal plain", "2026-11-25", "2027-10-15/2027-11-15"},
		{"NC-coastal_plain", "2026-11-25", "2027-09-01/2027-10-15"}, // NC Cooperative Extension, Harnett County, 2018; read
		{"turn", "2027-06-01", "2027-12-15/2028-01-15"},
		{"turn", "2028-01-05", "2028-01-05/2028-01-15"},
		{"turn", "2028-01-16", "2028-12-15/2029-01-15"},
	} {
		w := turn
		if c.region != "turn" {
			var err error
			if w, err = Region(p, c.region); err != nil {
				t.Fatal(err)
			}
		}
		if got := Earliest(w, day(t, c.from)).String(); got != c.want {
			t.Errorf("%s from %s: %s, want %s", c.region, c.from, got, c.want)
		}
	}
	if _, err := Region(p, "delta"); err == nil {
		t.Error("a region that is not in the profile was found")
	}
}

// Months that end earlier than they begin: the last day of the shorter one.
func TestAddMonths(t *testing.T) {
	for _, c := range []struct {
		from string
		n    int
		want string
	}{
		{"2026-11-25", 12, "2027-11-25"}, {"2026-11-25", 0, "2026-11-25"}, {"2026-01-31", 1, "2026-02-28"},
		{"2028-02-29", 12, "2029-02-28"}, {"2027-08-31", 6, "2028-02-29"}, {"2026-12-31", 24, "2028-12-31"},
	} {
		if got := Day(AddMonths(day(t, c.from), c.n)); got != c.want {
			t.Errorf("%s and %d months: %s, want %s", c.from, c.n, got, c.want)
		}
	}
}

// Only year, month and day, of a day that exists, in a year that can be meant.
func TestDays(t *testing.T) {
	for _, s := range []string{"", "25.11.2026", "2026-02-30", "2026-13-01", "26-11-25", "0026-11-25", "2026-11-25T00:00:00Z"} {
		if d, err := ParseDay(s); err == nil {
			t.Errorf("ParseDay(%q) = %v", s, d)
		}
	}
}

// A day of the calendar that is too far off is not called no day.
func TestDaysOutOfReach(t *testing.T) {
	for _, s := range []string{"1899-12-31", "2201-01-01", "9999-12-31"} {
		if _, err := ParseDay(s); err == nil || !strings.Contains(err.Error(), "from 1900 to 2200") {
			t.Errorf("ParseDay(%q): %v", s, err)
		}
	}
}

// A window never lies before the day, and never more than a year and its own length away.
func TestEarliestIsOnOrAfter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		md := func(label string) suitability.MonthDay {
			return suitability.MonthDay{Month: time.Month(rapid.IntRange(1, 12).Draw(t, label+" month")), Day: rapid.IntRange(1, 28).Draw(t, label+" day")}
		}
		s := suitability.SowingWindow{First: md("first"), Last: md("last")}
		from := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 5000).Draw(t, "day"))
		w := Earliest(s, from)
		if w.First.Before(from) || w.Last.Before(w.First) || w.First.After(from.AddDate(1, 0, 0)) {
			t.Fatalf("%+v from %s: %s", s, Day(from), w)
		}
	})
}
