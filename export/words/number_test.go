package words

import (
	"testing"

	"rootworthy/soils/unit"
)

// Values just to either side of where the digits change. Tons that are there never read as nothing, no zero has a minus, and a value beside
// its limit reads like the limit only where it is the same to six decimals.
func TestNumbersForReading(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{fixed(1234567.891, 1), "1,234,567.9"}, {fixed(-1234.5, 0), "-1,234"}, {fixed(-0.04, 1), "0.0"}, {fixed(999.96, 1), "1,000.0"}, {plain(6.50, 2), "6.5"}, {plain(100, 2), "100"}, {plain(0, 2), "0"},
		{beside(5.4943, 5.5, 1), "5.49"}, {beside(5.5, 5.5, 1), "5.5"}, {beside(5.4999999, 5.5, 1), "5.5"}, {beside(28, 60, 0), "28"},
		{acres(unit.Acres(99.94)), "99.9"}, {acres(unit.Acres(99.96)), "100"}, {acres(unit.Acres(12345)), "12,345"},
		{acresAndHectares(unit.Acres(10)), "10.0 acres (4.0 ha)"}, {acresAndHectares(unit.Acres(0.04)), "<0.1 acres (<0.1 ha)"}, {acresAndHectares(0), "0.0 acres (0.0 ha)"}, {inches(60), "24 in (60 cm)"},
		{shortTons(1), "1 short ton"}, {shortTons(1.25), "1.25 short tons"}, {tons(0.04), "0.04"}, {tons(0.001), "<0.01"}, {tons(0), "0.0"}, {tons(1.35036), "1.4"}, {someTons(0.004), "<0.01"}, {someTons(0), "0.00"}, {someTons(0.005), "0.01"}, {count(1, "pass", "passes"), "1 pass"}, {count(1200, "pass", "passes"), "1,200 passes"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
