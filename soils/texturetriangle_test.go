package soils

import (
	"testing"

	"rootworthy/soils/unit"
)

// Horizons as real surveys have them: sand, silt, clay, and the class that the survey names.
// Source: SSURGO AR017, MO181, AZ649 and TX347 (chorizon, chtexturegrp); sands without coarse and
// fine, and without the few horizons whose fractions lie across the border of their class.
func TestTextureOf(t *testing.T) {
	for _, c := range []struct {
		sand, silt, clay unit.Percent
		want             string
	}{
		{87.4, 10.4, 2.2, "S"}, {92.9, 4, 3.1, "S"}, {98.7, 1, 0.3, "S"},
		{77.9, 16.1, 6, "LS"}, {82.9, 4.6, 12.5, "LS"}, {87.3, 6.7, 6, "LS"},
		{51.2, 42, 6.8, "SL"}, {77.5, 11.2, 11.3, "SL"},
		{27.1, 47.5, 25.4, "L"}, {43.2, 38.8, 18, "L"}, {50, 40, 10, "L"},
		{0.8, 77.1, 22.1, "SIL"}, {15.9, 75, 9.1, "SIL"}, {40, 53, 7, "SIL"},
		{5, 83.3, 11.7, "SI"}, {56.4, 18.6, 25, "SCL"},
		{61.8, 13.2, 25, "SCL"}, {33.5, 36.5, 30, "CL"},
		{45, 27, 28, "CL"}, {2, 66, 32, "SICL"}, {10, 60, 30, "SICL"},
		{20, 49, 31, "SICL"}, {49, 2.8, 48.2, "SC"}, {52.8, 12.2, 35, "SC"},
		{1, 41.5, 57.5, "SIC"}, {7, 48, 45, "SIC"}, {17.6, 40.7, 41.7, "SIC"},
		{0.6, 22.5, 76.9, "C"}, {14, 25, 61, "C"}, {41.6, 10.9, 47.5, "C"},
		{50, 30, 10, ""}, {-1, 60, 41, ""}, // do not sum, or are no fractions
	} {
		if got, ok := TextureOf(c.sand, c.silt, c.clay); got != c.want || ok != (c.want != "") {
			t.Errorf("TextureOf(%v, %v, %v) = %q, %v, want %q", c.sand, c.silt, c.clay, got, ok, c.want)
		}
	}
}
