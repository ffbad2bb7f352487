package exchange

import (
	"strings"
	"testing"
)

// Source: ECMA-376 part 1, 18.17.4.1 (day 1 is 1900-01-01 in a count that takes 1900 for a leap year; after February
// 1900 days count from 1899-12-30), 22.9.2.19 (_xHHHH_ escapes).
func TestCellsAsSheetsHoldThem(t *testing.T) {
	for _, c := range []struct {
		day  string
		want int
		ok   bool
	}{{"2027-11-25", 46716, true}, {"2000-01-01", 36526, true}, {"1901-01-01", 367, true}, {"soon", 0, false}, {"1899-01-01", 0, false}} {
		if got, ok := (cell{value: c.day, day: true}).serial(); got != c.want || ok != c.ok {
			t.Errorf("%s is day %d %v, want %d %v", c.day, got, ok, c.want, c.ok)
		}
	}
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := columnName(i); got != want {
			t.Errorf("column %d is %s, want %s", i, got, want)
		}
	}
	if got := cellText("_x0041_ is A"); got != "_x005F_x0041_ is A" {
		t.Errorf("escape kept as %q", got)
	}
	if got := cellText(strings.Repeat("é", 40000)); len([]rune(got)) != mostText {
		t.Errorf("a long text keeps %d letters", len([]rune(got)))
	}
}
