package lab

import (
	"math"
	"strconv"
	"strings"
)

// decimalMark says how a table writes figures.
type decimalMark uint8

const (
	markUnclear decimalMark = iota // no figure of the table tells
	markPoint                      // 1,150.5
	markComma                      // 1.150,5
)

// cellState is what became of a cell that should hold a figure.
type cellState uint8

const (
	cellEmpty cellState = iota
	cellFigure
	cellNotDetected // "ND": looked for and not found, limit unknown
	cellUnclear     // "1,150": thousands or decimals
	cellBad
)

// figure is a cell read as a figure.
type figure struct {
	value float64
	bound Bound
	state cellState
}

// notMeasured and notFound are what laboratories write in place of a figure, in lower case.
var (
	notMeasured = []string{"", "-", "--", "---", "—", "–", ".", "na", "n/a", "n.a.", "#n/a", "nr", "ns", "nt", "not tested", "not measured",
		"not analyzed", "not requested", "null", "none", "nil", "*"}
	notFound = []string{"nd", "n.d.", "n.d", "bdl", "<mdl", "<dl", "<lod", "<loq", "<rl", "not detected", "below detection", "bd", "trace", "tr"}
)

// ratings may follow a figure: "45 VH".
var ratings = []string{"vl", "l", "m", "h", "vh", "eh", "o", "d", "a", "s", "e", "low", "med", "medium", "high", "very low", "very high",
	"optimum", "adequate", "sufficient", "excessive", "deficient", "below optimum", "above optimum"}

// readFigure reads a cell. Not-a-number and infinities are bad cells.
func readFigure(cell string, mark decimalMark) figure {
	s := strings.ToLower(squeeze(strings.ReplaceAll(cell, "\u00a0", " ")))
	switch {
	case oneOf(s, notMeasured):
		return figure{state: cellEmpty}
	// "< MDL" and "N. D." too
	case oneOf(strings.ReplaceAll(s, " ", ""), notFound) || oneOf(s, notFound):
		return figure{state: cellNotDetected, bound: Below}
	}
	f := figure{state: cellFigure}
	// "at most" and "less than" are one to a method that can tell no further; the longer sign is tried first
	for _, b := range []struct {
		sign  string
		bound Bound
	}{{"<=", Below}, {"≤", Below}, {"<", Below}, {">=", Above}, {"≥", Above}, {">", Above}} {
		if rest, ok := strings.CutPrefix(s, b.sign); ok {
			s, f.bound = strings.TrimSpace(rest), b.bound
			break
		}
	}
	// after the sign: "< 5 VL" has both
	s = withoutRating(s)
	// 6,4 and 0,150 can only be decimals and 1,150,000 only thousands; 1,150 alone is refused
	if strings.Contains(s, ",") && mark == markUnclear && thousandsOrDecimals(s) {
		return figure{state: cellUnclear}
	}
	v, ok := parseMarked(s, mark)
	if !ok {
		return figure{state: cellBad}
	}
	f.value = v
	return f
}

// oneOf says whether s is a member of a short list, exactly.
func oneOf(s string, list []string) bool {
	for _, w := range list {
		if s == w {
			return true
		}
	}
	return false
}

// withoutRating cuts the laboratory's rating off a figure; "45vh" and "45 vh" both give "45".
func withoutRating(s string) string {
	i := strings.LastIndexAny(s, "0123456789") + 1
	if i > 0 && oneOf(strings.Trim(s[i:], " ()"), ratings) {
		return strings.TrimSpace(s[:i])
	}
	return s
}

// parseMarked parses digits with the marks of the table.
func parseMarked(s string, mark decimalMark) (float64, bool) {
	// marks of the file, or of the cell where the file does not tell and the cell leaves no choice
	group, point := ",", "."
	if mark == markComma || mark == markUnclear && decimalComma(s) {
		group, point = ".", ","
	}
	whole, _, _ := strings.Cut(s, point)
	// groups must be whole, and none may stand behind the decimal mark
	if strings.Contains(whole, group) && !grouped(whole, group) || strings.Contains(strings.TrimPrefix(s, whole), group) {
		return 0, false
	}
	s = strings.ReplaceAll(strings.ReplaceAll(s, group, ""), point, ".")
	if strings.Trim(s, "0123456789.+-e") != "" { // keeps "0x10", "1_000", "inf" and "nan" out
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && !math.IsInf(v, 0)
}

// grouped says whether s is digits in groups of three: 1,150 or 12,345,678.
func grouped(s, sep string) bool {
	parts := strings.Split(strings.TrimPrefix(strings.TrimPrefix(s, "-"), "+"), sep)
	for i, p := range parts {
		if strings.Trim(p, "0123456789") != "" || i == 0 && (len(p) < 1 || len(p) > 3) || i > 0 && len(p) != 3 {
			return false
		}
	}
	return len(parts) > 1
}

// thousandsOrDecimals says whether "1,150" could be either; no thousands begin with 0.
func thousandsOrDecimals(s string) bool {
	return strings.Count(s, ",") == 1 && grouped(s, ",") && !strings.HasPrefix(strings.TrimLeft(s, "+-"), "0")
}

// decimalComma says whether the one comma of "6,4" or "0,150" can only stand before decimals.
func decimalComma(s string) bool {
	return strings.Count(s, ",") == 1 && !strings.Contains(s, ".") && !thousandsOrDecimals(s)
}

// evidence tells how a cell writes figures, when it can be only one way.
func evidence(cell string) decimalMark {
	s := strings.Trim(squeeze(cell), " <>=")
	if s == "" || strings.Trim(s, "0123456789.,-+") != "" {
		return markUnclear
	}
	comma, point := strings.Count(s, ","), strings.Count(s, ".")
	switch {
	case decimalComma(s),
		comma == 1 && point > 0 && strings.LastIndex(s, ",") > strings.LastIndex(s, "."):
		return markComma
	// 1.150 could be thousands in a file with decimal commas, but then its other cells have commas, and settings sees both
	case point == 1:
		return markPoint
	case comma > 1 && grouped(s, ","):
		return markPoint
	}
	return markUnclear
}
