package words

import (
	"math"
	"strings"

	"rootworthy/suitability"
)

// Chance says a chance as people say it: "7 chances in 10"; the rare and the nearly sure in hundredths. What may happen
// never reads as never, and what may not never reads as sure.
func Chance(p float64) string {
	switch {
	case !(p > 0):
		return "no chance"
	case p >= 1:
		return "sure"
	}
	// Read from the hundredths that stand in brackets behind the words, so that the two never part.
	switch n := hundredths(p); {
	// Below half a hundredth, and above all but half a hundredth, a count in a hundred would read as none or all.
	case n == 0:
		return "under 1 chance in 100"
	case n == 100:
		return "over 99 chances in 100"
	// In tenths these would round to 1 in 10 or 9 in 10 and hide how rare or how sure they are.
	case n < 10 || n > 90:
		return chances(p, 100)
	}
	return chances(p, 10)
}

// hundredths rounds a chance to hundredths, halves up: 0.985 is 99. Printing the float itself may go the other way, for 0.985 is a little less.
func hundredths(p float64) int { return int(math.Round(p * 100)) }

// chances says a chance in tenths or hundredths.
func chances(p float64, of int) string {
	n := int(math.Round(p * float64(of)))
	return count(n, "chance", "chances") + " in " + number(of)
}

// ChanceFigure is the figure behind the words, with what it may be off by: "0.70 ± 0.02".
func ChanceFigure(p, off float64) string {
	s := fixed(float64(hundredths(p))/100, 2)
	if off > 0 {
		// What is below the last digit shown reads as that digit: "± 0.00" would claim that nothing is left open.
		s += " ± " + fixed(math.Max(off, 0.01), 2)
	}
	return s
}

// ChanceOfClasses says the chances of the classes in the order of reports, those without any left out: "suited 7 chances
// in 10, unsuited 3 chances in 10".
func ChanceOfClasses(of func(suitability.Class) float64) string {
	var parts []string
	for _, c := range suitability.Classes() {
		switch p := of(c); {
		case p >= 1:
			return c.String() + ", as far as the survey goes"
		case p > 0:
			parts = append(parts, c.String()+" "+Chance(p))
		}
	}
	return strings.Join(parts, ", ")
}
