package words

import (
	"strings"
	"unicode"

	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Figures for pages and maps: the same number reads the same wherever it stands.

// Acres prints an area: tenths of an acre up to a hundred; what is there never reads as nothing.
func Acres(a unit.Area) string { return acres(a) }

// AcresAndHectares prints an area with metric beside it: "12.4 acres (5.0 ha)".
func AcresAndHectares(a unit.Area) string { return acresAndHectares(a) }

// Tons prints short tons, or short tons an acre, to tenths; hundredths where a tenth would read as nothing.
func Tons(x float64) string { return tons(x) }

// Inches prints a depth with metric beside it: "24 in (60 cm)".
func Inches(d unit.Depth) string { return inches(d) }

// Decimal prints a number with at most the given decimals, thousands commas, and a real decimal point.
func Decimal(x float64, decimals int) string { return plain(x, decimals) }

// Fixed prints a number with exactly the given decimals.
func Fixed(x float64, decimals int) string { return fixed(x, decimals) }

// PH prints a pH to a tenth, as laboratories do.
func PH(x unit.PH) string { return fixed(float64(x), 1) }

// Count prints "1 zone", "3 zones".
func Count(n int, one, many string) string { return count(n, one, many) }

// Listed joins parts as people do: "a, b and c".
func Listed(parts []string) string { return listed(parts) }

// Answer answers for a whole run: how many fields look suited, how much ground that is, and what holds the rest back.
// The last line is missing where nothing does.
func Answer(r *suitability.Result) []string {
	s := &summary{r: r, sums: export.Sums(r)}
	out := []string{headline(s.tally(), len(s.sums)), s.ground()}
	if stops := s.stops(); stops != "" {
		out = append(out, stops)
	}
	return out
}

// ByTest says whether a lime figure rests on laboratory tests; else it is a budget from the survey.
func ByTest(l *suitability.Lime) bool { return byTest(l) }

// SuitedOnceLimed is the ground of a field that is suited once limed and worse today.
func SuitedOnceLimed(f *export.Sum) unit.Area { return suitedOnceLimed(f) }

// SowFrom is the pH that a retest must read before sowing. The profile may be nil.
func SowFrom(p *suitability.Profile) string { return plain(sowFrom(p), 2) }

// Shown makes text from somebody's file fit to be shown: one line, no control characters or marks that turn the
// direction of writing, at most so many letters, the cut marked.
func Shown(s string, most int) string {
	s = strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		// Format characters (Cf) are those that turn the direction of writing or take no room.
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), r == unicode.ReplacementChar:
			return '?'
		}
		return r
	}, s)), " ")
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}
