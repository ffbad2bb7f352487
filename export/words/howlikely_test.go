package words

import (
	"strings"
	"testing"

	"rootworthy/suitability"
)

// chancesOf gives chances in the order suited, marginal, unsuited, not rated.
func chancesOf(suited, marginal, unsuited, not float64) func(suitability.Class) float64 {
	return func(c suitability.Class) float64 {
		return map[suitability.Class]float64{suitability.Suited: suited, suitability.Marginal: marginal, suitability.Unsuited: unsuited, suitability.NotRated: not}[c]
	}
}

// The class shown may be sure, likely, less likely than another, or never drawn at all; each has words of its own. A class below two
// chances in ten is not named beside the one that is shown.
func TestClassChance(t *testing.T) {
	for want, got := range map[string]string{
		"7 chances in 10 that it is suited (0.70). It may be unsuited: 3 chances in 10.":                    ClassChance(suitability.Suited, chancesOf(0.7, 0, 0.3, 0), 0.02, Landowner),
		"9 chances in 10 that it is marginal (0.88).":                                                       ClassChance(suitability.Marginal, chancesOf(0.05, 0.88, 0, 0.07), 0.02, Landowner),
		"Only 3 chances in 10 that it is suited (0.30). But 6 chances in 10 that it is marginal.":           ClassChance(suitability.Suited, chancesOf(0.3, 0.6, 0.1, 0), 0.02, Landowner),
		"Nothing in the survey speaks for another class (1.00).":                                            ClassChance(suitability.Unsuited, chancesOf(0, 0, 1, 0), 0, Landowner),
		"No chance that it is suited (0.00).":                                                               ClassChance(suitability.Suited, chancesOf(0, 0, 0, 0), 0, Landowner),
		"6 chances in 10 that most of the field cannot be rated (0.60). It may be suited: 4 chances in 10.": FieldChance(suitability.NotRated, chancesOf(0.4, 0, 0, 0.6), 0.02, Landowner),
		"Over 99 chances in 100 that it is suited (>0.99).":                                                 ClassChance(suitability.Suited, chancesOf(0.997, 0, 0.003, 0), 0.02, Landowner),
		"suited 7 chances in 10, unsuited 3 chances in 10 (suited 0.70 ± 0.02)":                             ClassChance(suitability.Suited, chancesOf(0.7, 0, 0.3, 0), 0.02, Consultant),
	} {
		if got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
	}
}

// Words come before figures, for whoever reads.
func TestChancesBeforeFigures(t *testing.T) {
	for _, r := range Readers() {
		for _, p := range []float64{0.02, 0.3, 0.5, 0.7, 0.97} {
			s := ClassChance(suitability.Suited, chancesOf(p, 0, 1-p, 0), 0.02, r)
			if words, figure := strings.Index(s, "chance"), strings.Index(s, fixed(p, 2)); words < 0 || figure < words {
				t.Errorf("reader %d: %q", r, s)
			}
		}
	}
}

// Ends that read alike at two digits are one number with "about"; nothing at all is a plain zero.
func TestBetween(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      string
	}{{34.39, 108.8, "34 to 109"}, {0, 1.24, "0 to 1.2"}, {66.1, 66.2, "about 66"}, {1e3, 2345, "1,000 to 2,345"}, {0, 0, "0"}} {
		if got := Between(c.low, c.high); got != c.want {
			t.Errorf("%g to %g: %q, want %q", c.low, c.high, got, c.want)
		}
	}
}

// Chances read as easily as the rest of the landowner's text, and promise nothing.
func TestChancesAreEasyToRead(t *testing.T) {
	var list []string
	for _, c := range suitability.Classes() {
		for _, of := range []func(suitability.Class) float64{chancesOf(1, 0, 0, 0), chancesOf(0.7, 0.3, 0, 0), chancesOf(0.2, 0.1, 0.6, 0.1), chancesOf(0, 0, 0.4, 0.6), chancesOf(0.004, 0, 0.996, 0)} {
			list = append(list, ClassChance(c, of, 0.02, Landowner), FieldChance(c, of, 0.02, Landowner))
		}
	}
	list = append(list, title(NineInTen(34, 109, "acres are suited"))+".")
	if g := gradeOf(strings.Join(list, " ")); g > highestGrade {
		t.Errorf("chances read at grade %.1f", g)
	}
	for _, s := range list {
		if strings.Contains(s, "sure ") || strings.Contains(s, "never") || !strings.HasSuffix(s, ".") {
			t.Errorf("%q", s)
		}
	}
}

// What is there never reads as nothing, and one figure never as a span.
func TestBetweenOfSlivers(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      string
	}{{0, 0, "0"}, {0.01, 0.02, "under 0.1"}, {0, 0.03, "under 0.1"}, {0, 0.3, "0 to 0.3"}, {2.01, 2.04, "about 2"}} {
		if got := Between(c.low, c.high); got != c.want {
			t.Errorf("%g to %g reads %q, want %q", c.low, c.high, got, c.want)
		}
	}
}
