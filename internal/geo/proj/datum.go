package proj

import (
	"math"
	"slices"
	"strings"
)

// datum is a realisation whose longitudes and latitudes are used as they stand, or brought to WGS 84 by a shift.
type datum struct {
	code  int    // EPSG code of its two-dimensional geographic system
	also  []int  // codes of the same with heights, and of realisations too near to tell apart
	name  string // as EPSG writes it
	el    ellipsoid
	tie   tie      // how it lies to WGS 84
	names []string // datum names that mean it, folded as by [fold]
}

// tie is what joins a datum to WGS 84; the zero value is that of WGS 84 itself.
type tie struct {
	note   string  // what a report has to say of it, behind the datum's name and "is"
	metres float64 // how far off a place may lie, by the published figure
	by     string  // whose figure
	move   shift   // the operation; the zero value: longitudes and latitudes are used as they stand
}

// datumByCode finds a datum by the EPSG code of its geographic system.
func datumByCode(code int) (datum, bool) {
	for _, d := range datums() {
		if d.code == code {
			return d, true
		}
	}
	return datum{}, false
}

// datumOfGeographic finds the datum of any geographic system, heights and realisations included.
func datumOfGeographic(code int) (datum, bool) {
	for _, d := range datums() {
		if d.code == code || slices.Contains(d.also, code) {
			return d, true
		}
	}
	return datum{}, false
}

// datumNamed finds a datum by a name as files write it. Names must match whole: "NAD_1983_HARN_Adj_MN_Anoka" looks like
// NAD83(HARN) but has an ellipsoid of its own.
func datumNamed(name string) (datum, bool) {
	key := strings.TrimPrefix(fold(strings.TrimPrefix(strings.TrimPrefix(name, "D_"), "d_")), "datum")
	key = withoutRealisation(key)
	for _, d := range datums() {
		for _, n := range d.names {
			if n == key {
				return d, true
			}
		}
	}
	return datum{}, false
}

// withoutRealisation takes the realisation off the names of WGS 84 ("wgs84g1762", "…transit") and the version off
// those of NAD83(CSRS) ("…csrsversion7"). The former lie within a metre of each other, the latter within decimetres
// (from memory, not checked).
func withoutRealisation(key string) string {
	if i := strings.Index(key, "csrs"); i >= 0 {
		switch rest := key[i+4:]; {
		case rest == "96", isDigits(strings.TrimPrefix(strings.TrimPrefix(rest, "v"), "ersion")):
			return key[:i+4]
		}
	}
	for _, wgs := range []string{"wgs84", "wgs1984", "worldgeodeticsystem1984"} {
		rest, found := strings.CutPrefix(key, wgs)
		if found && (rest == "transit" || strings.HasPrefix(rest, "g") && isDigits(rest[1:])) {
			return wgs
		}
	}
	return key
}

// isDigits tells whether s is a short run of digits.
func isDigits(s string) bool {
	return len(s) > 0 && len(s) <= 4 && strings.Trim(s, "0123456789") == ""
}

// agrees tells whether an ellipsoid read from a file is the datum's own. Files print radii and flattenings in full or
// rounded, and many take the two figures for each other (0.1 mm); a datum name on any other figure is a contradiction.
func (d datum) agrees(a, inverseF float64) bool {
	return math.Abs(a-d.el.a) < 0.01 && math.Abs(inverseF-1/d.el.f) < 1e-3
}

// fold reduces a name to lower-case letters and digits, so that "D_North_American_1983" and "North American 1983" meet.
func fold(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return -1
	}, s)
}
