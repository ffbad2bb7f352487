package export

import (
	"fmt"
	"slices"
	"strings"

	"rootworthy/suitability"
)

// Sources names the data a result rests on, one sentence for each survey area by symbol, as the agency asks: whose
// they are, which version, how far the map may be enlarged, and that they are for planning.
// Source: the agency's own metadata (SSURGO use constraints): acknowledge USDA-NRCS, planning only, no enlarging. The
// last entry tells what was done with the datum.
func Sources(p *suitability.Provenance) []string {
	areas := slices.Clone(p.Surveys)
	slices.SortStableFunc(areas, func(a, b suitability.SurveyArea) int { return strings.Compare(a.Symbol, b.Symbol) })
	var out []string
	for _, a := range areas {
		if s := source(a); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	if len(out) > 0 {
		out = append(out, "Coordinates in NAD83 are taken as WGS 84. The two differ by about 1 m, less than the width of a line on the soil map.")
	}
	return out
}

// source is the sentence for one survey area.
func source(a suitability.SurveyArea) string {
	var b strings.Builder
	switch {
	case Invented(a):
		fmt.Fprintf(&b, "Invented soil survey for demonstration, survey area %s", a.Symbol)
	// Data of another house name whom to credit.
	case a.Credit != "":
		b.WriteString(a.Credit)
	case a.General:
		b.WriteString("Soil Survey Staff, Natural Resources Conservation Service, United States Department of Agriculture. U.S. General Soil Map (STATSGO2), area " + a.Symbol)
	default:
		b.WriteString("Soil Survey Staff, Natural Resources Conservation Service, United States Department of Agriculture. Soil Survey Geographic (SSURGO) Database, survey area " + a.Symbol)
	}
	if a.Version != "" {
		b.WriteString(", version " + a.Version)
	}
	if a.Date != "" {
		b.WriteString(" (" + a.Date + ")")
	}
	b.WriteString(". For planning, not for regulation.")
	if scale, ok := a.Scale.Get(); ok {
		fmt.Fprintf(&b, " Mapped at 1:%s; enlarging the map does not make it more exact.", Thousands(scale))
	}
	return b.String()
}

// Invented says whether a survey area is made up: the demonstration survey says so in its name. Nothing made up may be
// credited to the agency.
func Invented(a suitability.SurveyArea) bool {
	return strings.Contains(strings.ToLower(a.Name), "invented")
}

// Thousands prints a whole number for reading, with commas; data files never have them.
func Thousands(n int) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
