package geotiff

import (
	"fmt"
	"strings"

	"rootworthy/internal/geo/proj"
)

// method is a projection that keys may spell out: its code under key 3075 and its constants.
type method struct {
	code       uint64
	wkt        string
	parameters []parameter
}

// parameter is a constant under the keys that files use for it, the proper one first.
type parameter struct {
	wkt    string
	keys   []uint64
	absent float64
	needed bool
}

// methods lists the projections.
//
// Source: GeoTIFF 1.0 (1995), section 6.3.3.3, coordinate transformation codes, and section 6.2.3 for the keys of their
// constants; OGC 01-009 for the words. Files mix up origin, false origin and centre, so each constant is looked for under all three.
func methods() []method {
	// In this order: natural origin, false origin, centre.
	lon := []uint64{3080, 3084, 3088}
	lat := []uint64{3081, 3085, 3089}
	fe := []uint64{3082, 3086, 3090}
	fn := []uint64{3083, 3087, 3091}
	first := func(i int, keys []uint64) []uint64 { // the proper key in front
		return append([]uint64{keys[i]}, keys...)
	}
	origin := func(i int) []parameter {
		return []parameter{{"latitude_of_origin", first(i, lat), 0, true}, {"central_meridian", first(i, lon), 0, true},
			{"false_easting", first(i, fe), 0, false}, {"false_northing", first(i, fn), 0, false}}
	}
	scale := parameter{"scale_factor", []uint64{3092, 3093}, 1, false}
	parallels := []parameter{{"standard_parallel_1", []uint64{3078}, 0, true}, {"standard_parallel_2", []uint64{3079}, 0, true}}
	centre := origin(2)
	centre[0].wkt, centre[1].wkt = "latitude_of_center", "longitude_of_center"
	return []method{
		{1, "Transverse_Mercator", append(origin(0), scale)},
		{8, "Lambert_Conformal_Conic_2SP", append(origin(1), parallels...)},
		{9, "Lambert_Conformal_Conic_1SP", append(origin(0), scale)},
		{10, "Lambert_Azimuthal_Equal_Area", centre},
		{11, "Albers_Conic_Equal_Area", append(origin(0), parallels...)},
	}
}

// spelled reads a projected system without a code of its own.
func (g geoKeys) spelled() (proj.CRS, error) {
	base, err := g.geographic()
	if err != nil {
		return proj.CRS{}, err
	}
	unit, err := g.linearUnit()
	if err != nil {
		return proj.CRS{}, err
	}
	name := strings.TrimSpace(g.text(keyCitation))
	if name == "" {
		name = "system spelled out in the file"
	}
	body, err := g.projection()
	if err != nil {
		return proj.CRS{}, err
	}
	return proj.Parse(fmt.Sprintf(`PROJCS["%s",%s,%s,UNIT["unit",%s]]`, unquoted(name), base, body, digits(unit)))
}

// projection writes method and constants in the words of a .prj file.
func (g geoKeys) projection() (string, error) {
	if zone, ok := g.number(keyConversion); ok && (zone >= 16001 && zone <= 16060 || zone >= 16101 && zone <= 16160) {
		north := 0
		// south of the equator: the same meridians, and northings that stay positive
		if zone > 16100 {
			zone, north = zone-100, 10000000
		}
		return fmt.Sprintf(`PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",%d],`+
			`PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],PARAMETER["false_northing",%d]`,
			6*(int(zone)-16000)-183, north), nil // EPSG conversions 16001 to 16160: the zones of UTM
	}
	code, _ := g.number(keyMethod)
	for _, m := range methods() {
		if m.code != code {
			continue
		}
		var b strings.Builder
		fmt.Fprintf(&b, "PROJECTION[%q]", m.wkt)
		for _, p := range m.parameters {
			v, ok := g.double(p.keys...)
			// An origin taken as 0 would place the raster on another continent without a word.
			if !ok && p.needed {
				return "", fmt.Errorf("GeoTIFF key %d: the projection lacks its %s; write the raster again in a known system, such as EPSG:5070", p.keys[0], p.wkt)
			}
			if !ok {
				v = p.absent
			}
			fmt.Fprintf(&b, ",PARAMETER[%q,%s]", p.wkt, digits(v))
		}
		return b.String(), nil
	}
	return "", fmt.Errorf("GeoTIFF key %d: projection method %d is not known; bring the raster to EPSG:5070 or a UTM zone",
		keyMethod, code)
}

// linearUnit returns the metres of the unit of coordinates.
//
// Source: EPSG units 9001 to 9003; exact.
func (g geoKeys) linearUnit() (float64, error) {
	code, ok := g.number(keyLinearUnit)
	// code is 0 where the key is absent, which no unit has.
	if m, known := lengthUnit(code); known {
		return m, nil
	}
	// the size stands only where the code says that the unit is the user's own
	if size, spelled := g.double(keyLinearUnitSize); spelled && code == userDefined {
		return size, nil
	}
	if !ok {
		return 1, nil
	}
	return 0, fmt.Errorf("GeoTIFF key %d: unit %d is neither metre (9001) nor foot (9002, 9003); write the raster again in a known system, such as EPSG:5070",
		keyLinearUnit, code)
}

// lengthUnit returns the metres of a unit by its EPSG code; ok is false for others.
func lengthUnit(code uint64) (metres float64, ok bool) {
	switch code {
	case 9001:
		return 1, true
	case 9002:
		return 0.3048, true
	case 9003:
		// the US survey foot; two parts in a million longer, which is metres at the other end of a state
		return 1200. / 3937, true
	}
	return 0, false
}
