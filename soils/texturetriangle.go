package soils

import (
	"math"

	"rootworthy/soils/unit"
)

// TextureOf returns the texture class of the fine earth by its fractions, for surveys that do not name it. Sands are not
// split into coarse and fine. ok is false when the fractions do not sum to 100 within 2, the roundings of three figures.
// Source: USDA Soil Survey Manual, chapter 3, definitions of the twelve texture classes; written down from memory, and
// compared with the class that the survey names in the tests of package ssurgo.
func TextureOf(sand, silt, clay unit.Percent) (code string, ok bool) {
	if !(math.Abs(float64(sand+silt+clay)-100) <= 2) || min(sand, silt, clay) < 0 {
		return "", false
	}
	switch {
	// each case leans on those before it: what is clayey and silty is gone by the time that clay is asked for
	case clay >= 40 && silt >= 40:
		return "SIC", true
	case clay >= 40 && sand <= 45:
		return "C", true
	case clay >= 35 && sand > 45:
		return "SC", true
	case clay >= 27 && sand <= 20:
		return "SICL", true
	case clay >= 27 && sand <= 45:
		return "CL", true
	case clay >= 20 && silt < 28 && sand > 45:
		return "SCL", true
	}
	return textureBelow27(sand, silt, clay), true
}

// textureBelow27 tells the classes of little clay apart.
func textureBelow27(sand, silt, clay unit.Percent) string {
	switch {
	case silt >= 80 && clay < 12:
		return "SI"
	case silt >= 50:
		return "SIL"
	case silt+1.5*clay < 15:
		return "S"
	case silt+2*clay < 30:
		return "LS"
	case clay < 7 || sand > 52:
		return "SL"
	}
	return "L"
}
