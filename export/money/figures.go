package money

import (
	"math"
	"strings"

	"rootworthy/export/words"
	"rootworthy/suitability/economics"
)

// digits is how many digits of an amount are shown: no price is known better.
const digits = 3

// rounded keeps the leading digits of a number.
func rounded(x float64) float64 {
	if x == 0 {
		return 0
	}
	scale := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-digits+1)
	// A half that is a hair less, as sums over areas leave it, is rounded as a half: two zones on one soil cost the same.
	const hair = 1e9
	return math.Round(math.Round(x/scale*hair)/hair) * scale
}

// amount prints money for reading, without its currency; a real minus before what is lost.
func amount(x float64) string {
	// From ten on cents mean nothing; below, as with a price of a pound, they are all there is.
	r := rounded(x)
	if math.Abs(x) >= 10 {
		return signed(r, 0)
	}
	return signed(r, 2)
}

// years prints a time to a tenth of a year.
func years(n float64) string {
	s := words.Decimal(n, 1)
	if s == "1" {
		return s + " year"
	}
	return s + " years"
}

// given prints a figure as somebody gave it: a price of 0.65, a yield of 4.5.
func given(x float64) string { return signed(x, 3) }

// signed prints a number with a real minus: a hyphen is easily overlooked in a column of figures.
func signed(x float64, decimals int) string {
	s := words.Decimal(math.Abs(x), decimals)
	// What rounds to nothing is no loss.
	if x < 0 && strings.Trim(s, "0.,") != "" {
		return "−" + s
	}
	return s
}

// span prints a range in a cell: "237 to 452", or the one figure.
func span(low, high float64) string {
	if amount(low) == amount(high) {
		return amount(low)
	}
	return amount(low) + " to " + amount(high)
}

// between says a range in a sentence.
func between(low, high float64, currency string) string {
	if amount(low) == amount(high) {
		return amount(low) + " " + currency
	}
	return "between " + amount(low) + " and " + amount(high) + " " + currency
}

// gainOrLoss says an amount that may be negative.
func gainOrLoss(x float64, currency string) string {
	switch s := strings.TrimPrefix(amount(x), "−"); {
	case s == "0":
		return "nothing"
	case x < 0:
		return "a loss of " + s + " " + currency
	default:
		return "a gain of " + s + " " + currency
	}
}

// perAcre is a range over an acre.
type perAcre struct{ low, likely, high float64 }

// ofArea turns money an area into money an acre.
func ofArea(r economics.Range[economics.PerArea]) perAcre {
	return perAcre{r.Low.PerAcre(), r.Likely.PerAcre(), r.High.PerAcre()}
}

// cells prints low, likely and high.
func (p perAcre) cells() []string { return []string{amount(p.low), amount(p.likely), amount(p.high)} }
