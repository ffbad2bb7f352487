package caution

import (
	"math"
	"slices"
	"testing"

	"rootworthy/suitability"
)

// Every caution has a step, a source that fits its status, and every step something to tell.
func TestCautionsAreWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range All() {
		if seen[c.Code] || len(c.Steps) == 0 || c.Source == "" || !slices.Contains(suitability.Statuses(), c.Status) {
			t.Errorf("%+v is not whole", c)
		}
		if (c.Source == practice) != (c.Status == suitability.Practice) || (c.Source == memorized) != (c.Status == suitability.Memory) {
			t.Errorf("%s: source %q does not fit status %q", c.Code, c.Source, c.Status)
		}
		seen[c.Code] = true
		for _, s := range c.Steps {
			if !slices.Contains(Steps(), s) {
				t.Errorf("%s: step %q of no list", c.Code, s)
			}
		}
	}
	for _, s := range Steps() {
		if len(At(s)) == 0 {
			t.Errorf("%s has no caution", s)
		}
	}
}

// Figures that warn of harm, against what was read.
func TestFigures(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
		source    string
	}{
		{"bb-1: beetles that kill a horse, least (read)", LethalLeast, 50, texas},
		{"bb-1: most (read)", LethalMost, 545, texas},
		{"hb-1: months of history, picloram and sulfonylureas (read)", HistoryMonths, 36, oklahoma},
		{"alfalfa after alfalfa, years (read)", SelfPoisonYears, 2, oklahoma},
		{"graze-1: start, in (read)", GrazeFrom.Inches(), 6, potash},
		{"graze-1: residual, in (read)", GrazeLeast.Inches(), 7, potash},
		{"graze-1: residual to, in (read)", GrazeLeastMost.Inches(), 8, potash},
	} {
		if !(math.Abs(c.got-c.want) <= 1e-9) {
			t.Errorf("%s = %v, want %v (%s)", c.name, c.got, c.want, c.source)
		}
	}
}
