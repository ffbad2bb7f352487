package proj

import (
	"math"
	"slices"
	"strings"
)

// datum is a realisation whose longitudes and latitudes are used as they stand.
type datum struct {
	code  int    // EPSG code of its two-dimensional geographic system
	also  []int  // codes of the same with heights, and of realisations too near to tell apart
	name  string // as EPSG writes it
	el    ellipsoid
	note  string   // what taking it for WGS 84 means; empty for WGS 84
	names []string // datum names that mean it, folded as by [fold]
}

const nad83Note = "taken as equal to WGS 84, from which it differs by about 1 m"

// datums lists what is taken as WGS 84. NAD83 in all its realisations lies within about 1 m of WGS 84 in the conterminous
// states (2 m in Hawaii and the Pacific), as both once were defined equal and the plate has drifted since; survey lines
// are no better than that. (The distances are from memory, not checked.)
//
// Source: codes and names of the EPSG Geodetic Parameter Dataset (read through PROJ 9.1.1).
func datums() []datum {
	g, w := grs80(), wgs84()
	return []datum{
		{4326, []int{4979, 7657, 7659, 7661, 7663, 7665, 7816, 8888, 9053, 9054, 9055, 9056, 9057, 9754, 9755}, "WGS 84", w, "",
			[]string{"wgs1984", "wgs84", "worldgeodeticsystem1984", "worldgeodeticsystem1984ensemble",
				"worldgeodeticsystemof1984", "wgs84ensemble"}},
		{4269, nil, "NAD83", g, nad83Note,
			[]string{"northamerican1983", "northamericandatum1983", "northamericandatumof1983",
				"nad83", "nad1983", "nad831986", "nad83original"}},
		{4152, []int{4957}, "NAD83(HARN)", g, nad83Note,
			[]string{"northamerican1983harn", "nad83highaccuracyreferencenetwork",
				"nad83highaccuracyregionalnetwork", "nad83harn", "nad1983harn", "nad83hpgn", "nad83highprecisiongeodeticnetwork"}},
		{6318, []int{6319}, "NAD83(2011)", g, nad83Note,
			[]string{"nad19832011", "nad832011", "northamericandatum19832011",
				"nad83nationalspatialreferencesystem2011"}},
		{4759, []int{4893}, "NAD83(NSRS2007)", g, nad83Note,
			[]string{"nad1983nsrs2007", "nad83nsrs2007",
				"nad83nationalspatialreferencesystem2007"}},
		{6783, []int{6782}, "NAD83(CORS96)", g, nad83Note,
			[]string{"nad1983cors96", "nad83cors96",
				"nad83continuouslyoperatingreferencestation1996"}},
		{8860, []int{8542}, "NAD83(FBN)", g, nad83Note,
			[]string{"nad83fbn", "nad1983fbn", "nad1983federalbasenetwork", "nad83federalbasenetwork"}},
		{4617, []int{4955, 8231, 8232, 8235, 8237, 8239, 8240, 8244, 8246, 8248, 8249, 8251, 8252, 8254, 8255}, "NAD83(CSRS)", g, nad83Note,
			[]string{"northamerican1983csrs", "nad83canadianspatialreferencesystem",
				"nad83csrs", "nad1983csrs", "nad83csrs98", "northamerican1983csrs98", "northamericandatumof1983csrs"}},
		{6322, []int{6321}, "NAD83(PA11)", g, nad83PacificNote,
			[]string{"nad1983pa11", "nad83pa11",
				"nad83nationalspatialreferencesystempa11"}},
		{6325, []int{6324}, "NAD83(MA11)", g, nad83PacificNote,
			[]string{"nad1983ma11", "nad83ma11",
				"nad83nationalspatialreferencesystemma11"}},
	}
}

const nad83PacificNote = "taken as equal to WGS 84, from which it differs by 1 to 2 m"

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

// withoutRealisation takes the realisation off the names of WGS 84 ("wgs84g1762", "…transit") and the version off those
// of NAD83(CSRS) ("…csrsversion7"), which all lie within decimetres of each other.
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
