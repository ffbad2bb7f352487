package words

import (
	"math"
	"strconv"
	"strings"

	"rootworthy/export"
	"rootworthy/soils/unit"
)

// fixed prints a number with a fixed count of decimals and thousands commas; never a minus before zero.
func fixed(x float64, decimals int) string {
	s := strconv.FormatFloat(math.Abs(x), 'f', decimals, 64)
	whole, rest, _ := strings.Cut(s, ".")
	// A number too large for an int keeps its digits without commas.
	if n, err := strconv.Atoi(whole); err == nil {
		whole = export.Thousands(n)
	}
	if rest != "" {
		whole += "." + rest
	}
	if x < 0 && strings.Trim(s, "0.") != "" {
		return "-" + whole
	}
	return whole
}

// plain prints a number with at most the given decimals, without trailing zeros.
func plain(x float64, decimals int) string {
	s := fixed(x, decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// beside prints a value that stands beside its limit: with the decimals asked for, or as many more as it takes not to
// read like the limit itself. "pH 5.5, needs 5.5" would explain nothing.
// Six decimals at most: two floats that differ by less are the same for a reader.
func beside(value, limit float64, decimals int) string {
	for ; decimals < 6; decimals++ {
		if s := plain(value, decimals); value == limit || s != plain(limit, decimals) {
			return s
		}
	}
	return plain(value, decimals)
}

// number prints a whole number for reading.
func number(n int) string { return export.Thousands(n) }

// acres prints an area for reading: tenths of an acre up to a hundred. What is there never reads as nothing.
func acres(a unit.Area) string {
	// Half of the last digit: what rounds to 0.0 would read as nothing.
	if a > 0 && a.Acres() < 0.05 {
		return "<0.1"
	}
	// 99.95 is where a tenth rounds up to 100.0.
	if a.Acres() < 99.95 {
		return fixed(a.Acres(), 1)
	}
	return fixed(a.Acres(), 0)
}

// acresAndHectares prints an area with metric beside it.
func acresAndHectares(a unit.Area) string {
	ha := fixed(a.Hectares(), 1)
	// As for acres: what is there never reads as nothing, nor as less in one unit than in the other.
	if a > 0 && a.Hectares() < 0.05 {
		ha = "<0.1"
	}
	return acres(a) + " acres (" + ha + " ha)"
}

// inches prints a depth with metric beside it: "24 in (60 cm)".
func inches(d unit.Depth) string {
	return fixed(d.Inches(), 0) + " in (" + plain(float64(d), 1) + " cm)"
}

// shortTons prints a rate that a spreader is set to, with its unit: "1 short ton", "1.25 short tons".
func shortTons(x float64) string {
	s := plain(x, 2)
	if s == "1" {
		return s + " short ton"
	}
	return s + " short tons"
}

// tons prints short tons or short tons an acre: tenths, or two decimals where a tenth would read as nothing.
func tons(x float64) string {
	if x > 0 && x < 0.095 {
		return someTons(x)
	}
	return fixed(x, 1)
}
