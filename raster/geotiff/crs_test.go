package geotiff

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/proj"
)

// codes makes a key directory of pairs of key and code.
func codes(pairs ...uint64) geoKeys {
	var g geoKeys
	for i := 0; i+1 < len(pairs); i += 2 {
		g.list = append(g.list, geoKey{id: pairs[i], number: pairs[i+1]})
	}
	return g
}

// with adds keys that are numbers or text.
func (g geoKeys) with(id uint64, v any) geoKeys {
	k := geoKey{id: id}
	switch v := v.(type) {
	case float64:
		k.double = []float64{v}
	case string:
		k.text = v
	}
	g.list = append(g.list, k)
	return g
}

// conus is EPSG:5070 spelled out, as gridded surveys have it.
func conus(base uint64) geoKeys {
	return codes(keyModelType, 1, keyGeographic, base, keyProjected, userDefined, keyConversion, userDefined, keyMethod, 11, keyLinearUnit, 9001).
		with(3078, 29.5).with(3079, 45.5).with(3081, 23.0).with(3080, -96.0).with(3082, 0.0).with(3083, 0.0).with(keyCitation, `Albers "of the agency"`)
}

// By code and spelled out: either way a point must land in the same place.
func TestKnownSystems(t *testing.T) {
	albers, err := proj.FromEPSG(5070)
	if err != nil {
		t.Fatal(err)
	}
	at := orb.Point{-91.3, 33.2}
	want, _ := albers.FromLonLat(at)
	utm, _ := proj.FromEPSG(26915)
	inUTM, _ := utm.FromLonLat(at)
	// The same Albers and the same zone on NAD27, by their codes in EPSG.
	oldAlbers, err := proj.FromEPSG(5069)
	if err != nil {
		t.Fatal(err)
	}
	old, _ := oldAlbers.FromLonLat(at)
	oldUTM, _ := proj.FromEPSG(26715)
	oldInUTM, _ := oldUTM.FromLonLat(at)
	for name, tc := range map[string]struct {
		keys geoKeys
		want orb.Point
	}{
		"a code":              {codes(keyModelType, 1, keyProjected, 5070), want},
		"longitude, latitude": {codes(keyModelType, 2, keyGeographic, 4269), at},
		"no model type":       {codes(keyGeographic, 4326), at},
		"Albers spelled out":  {conus(4269), want},
		"in survey feet":      {conus(4269).withCode(keyLinearUnit, 9003), orb.Point{want[0] * 3937 / 1200, want[1] * 3937 / 1200}},
		"unit spelled out":    {conus(4269).withCode(keyLinearUnit, userDefined).with(keyLinearUnitSize, 2.0), orb.Point{want[0] / 2, want[1] / 2}},
		"false origin's keys": {codes(keyModelType, 1, keyGeographic, 4269, keyProjected, userDefined, keyMethod, 11).
			with(3078, 29.5).with(3079, 45.5).with(3085, 23.0).with(3084, -96.0).with(3086, 0.0).with(3087, 0.0), want},
		"zone by its conversion": {codes(keyModelType, 1, keyGeographic, 4269, keyProjected, userDefined, keyConversion, 16015), inUTM},
		"datum by its code":      {conus(userDefined).withCode(keyDatum, 6269), want},
		"datum by its name": {conus(userDefined).with(keySemiMajor, 6378137.0).with(keyInverseFlat, 298.257222101).
			with(keyGeogCitation, "GCS Name = GCS_North_American_1983|Datum = D_North_American_1983|Ellipsoid = GRS_1980"), want},
		"NAD27 by a code":           {codes(keyModelType, 1, keyProjected, 26715), oldInUTM},
		"NAD27 spelled out":         {conus(4267), old},
		"NAD27, zone by conversion": {codes(keyModelType, 1, keyGeographic, 4267, keyProjected, userDefined, keyConversion, 16015), oldInUTM},
		"NAD27, datum by its code":  {conus(userDefined).withCode(keyDatum, 6267), old},
		"NAD27, datum by its name": {conus(userDefined).with(keySemiMajor, 6378206.4).with(keyInverseFlat, 294.978698213898).
			with(keyGeogCitation, "GCS Name = GCS_North_American_1927|Datum = D_North_American_1927|Ellipsoid = Clarke_1866"), old},
		"a text of WKT": {codes(keyModelType, 1, keyProjected, userDefined).with(keyCitation, `ESRI PE String = PROJCS["NAD_1983_UTM_Zone_15N",`+
			`GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],`+
			`UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],`+
			`PARAMETER["Central_Meridian",-93.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]`), inUTM},
	} {
		crs, err := tc.keys.crs()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got, ok := crs.FromLonLat(at); !ok || math.Abs(got[0]-tc.want[0]) > 1e-6 || math.Abs(got[1]-tc.want[1]) > 1e-6 {
			t.Errorf("%s: %v (%v), want %v", name, got, ok, tc.want)
		}
	}
}

// A key whose value would lie outside its list is none, however great the words in which it says so.
func TestKeysOutsideTheirLists(t *testing.T) {
	const most = math.MaxUint64
	for _, tc := range []struct {
		at, n uint64
		list  int
		want  bool
	}{{0, 0, 0, true}, {0, 3, 3, true}, {2, 1, 3, true}, {3, 0, 3, true}, {3, 1, 3, false}, {0, 4, 3, false}, {most, 1, 3, false}, {1, most, 3, false}, {most, most, 3, false}, {most - 1, 2, 0, false}} {
		if got := inside(tc.at, tc.n, tc.list); got != tc.want {
			t.Errorf("%d values at %d in a list of %d: %v", tc.n, tc.at, tc.list, got)
		}
	}
}

// withCode puts a code in front, where it is found first.
func (g geoKeys) withCode(id, code uint64) geoKeys {
	g.list = append([]geoKey{{id: id, number: code}}, g.list...)
	return g
}

// Systems that would put ground in the wrong place if they were taken for the next best one.
func TestRefusedSystems(t *testing.T) {
	for name, tc := range map[string]struct {
		keys geoKeys
		want string
	}{
		"none":             {geoKeys{}, "write the raster again"},
		"NAD27 of Alaska":  {codes(keyModelType, 1, keyProjected, 26705), "26705"},
		"NAD27 Michigan":   {conus(4268), "4268"},
		"NAD27 on GRS 80":  {conus(userDefined).with(keySemiMajor, 6378137.0).with(keyInverseFlat, 298.257222101).with(keyGeogCitation, "Datum = D_North_American_1927"), "not its own"},
		"geocentric":       {codes(keyModelType, 3), "1024"},
		"grads":            {conus(4269).withCode(keyAngularUnit, 9105), "2054"},
		"Paris":            {conus(4269).withCode(keyPrimeMeridian, 8903), "2051"},
		"chains":           {conus(4269).withCode(keyLinearUnit, 9097), "3076"},
		"unknown method":   {conus(4269).withCode(keyMethod, 27), "3075"},
		"lacks a parallel": {codes(keyModelType, 1, keyGeographic, 4269, keyProjected, userDefined, keyMethod, 11).with(3078, 29.5), "3081"},
		"nameless datum":   {conus(userDefined), "2050"},
		"not a number":     {conus(4269).with(3079, math.NaN()).withDouble(3078, math.NaN()), ""},
	} {
		if crs, err := tc.keys.crs(); err == nil || !strings.Contains(err.Error(), tc.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, %v, want %q", name, crs, err, tc.want)
		}
	}
}

// withDouble puts a number in front.
func (g geoKeys) withDouble(id uint64, v float64) geoKeys {
	g.list = append([]geoKey{{id: id, double: []float64{v}}}, g.list...)
	return g
}

// What writers put into the tag, for types that can and cannot hold it.
func TestNodataText(t *testing.T) {
	for _, tc := range []struct {
		text   string
		s      Sample
		stored float64 // a value that must be missing
		none   bool    // no stored value is missing
		bad    bool
	}{
		{text: "-9999", s: Sample{Signed, 16}, stored: -9999},
		{text: "-9999", s: Sample{Unsigned, 8}, none: true},
		{text: "255", s: Sample{Unsigned, 8}, stored: 255},
		{text: "0.0", s: Sample{Unsigned, 8}, stored: 0},
		{text: "2147483647", s: Sample{Float, 32}, stored: 2147483648}, // what a float32 makes of it
		{text: "-3.40282e+38", s: Sample{Float, 32}, stored: -math.MaxFloat32},
		{text: "nan", s: Sample{Float, 32}, none: true}, // NaN is missing anyhow
		{text: "nan", s: Sample{Unsigned, 8}, none: true},
		{text: "none", s: Sample{Float, 32}, bad: true},
		{text: "", s: Sample{Signed, 8}, none: true},
	} {
		n, ok := parseNodata(tc.text, tc.s)
		if ok == tc.bad {
			t.Errorf("%q for %v: %v", tc.text, tc.s, ok)
		}
		if tc.bad {
			continue
		}
		rd := &reading[float64]{band: Band{Scale: 1}, none: n, p: &page{sample: tc.s}}
		gone := make([]bool, 2)
		if tc.s.Kind == Float {
			rd.takeFloats(make([]float64, 2), gone, []float64{tc.stored, 17})
		} else {
			rd.takeWhole(make([]float64, 2), gone, []int64{int64(tc.stored), 17})
		}
		if gone[0] == tc.none || gone[1] {
			t.Errorf("%q for %v: missing %v", tc.text, tc.s, gone)
		}
	}
}

// TestKeysThatDoNotFit: a fraction or a number too large for the type is a fault with its place, and missing.
func TestKeysThatDoNotFit(t *testing.T) {
	f := reopened(t, tiny(t)["tiny-packbits-strips.tif"])
	// Values up to 69 all fit; 7 is missing, in column 7 of the first three rows.
	if g := read[int8](t, f, Request{}); f.faults.Faults() != 0 || g.Missing() != 3 {
		t.Errorf("%d missing, %s", g.Missing(), f.faults)
	}
	rd := &reading[uint8]{band: Band{Scale: 1}, p: &page{sample: Sample{Signed, 16}}}
	cells, gone := make([]uint8, 3), make([]bool, 3)
	if bad := rd.takeWhole(cells, gone, []int64{255, 256, -1}); bad != 1 || gone[0] || !gone[1] || !gone[2] {
		t.Errorf("bad %d, missing %v", bad, gone)
	}
	rd.p.sample = Sample{Float, 32}
	gone = make([]bool, 3)
	if bad := rd.takeFloats(cells, gone, []float64{7, 7.5, 300}); bad != 1 || gone[0] || !gone[1] || !gone[2] || cells[0] != 7 {
		t.Errorf("bad %d, missing %v", bad, gone)
	}
}

// TestHalf checks the widening of half floats against the values of IEEE 754-2019, table 3.5's format: 1, the largest, the
// smallest normal and subnormal, and -2.
func TestHalf(t *testing.T) {
	for bits, want := range map[uint16]float64{0x3c00: 1, 0x7bff: 65504, 0x0400: math.Ldexp(1, -14), 0x0001: math.Ldexp(1, -24),
		0xc000: -2, 0x7c00: math.Inf(1), 0xfc00: math.Inf(-1), 0: 0} {
		if got := half(bits); got != want {
			t.Errorf("half(%#x) = %v, want %v", bits, got, want)
		}
	}
	if v := half(0x7e00); v == v {
		t.Error("half NaN is a number")
	}
}
