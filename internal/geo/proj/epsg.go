package proj

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
)

// projectedTable holds the projected systems on NAD83 and NAD27, a row a code; its head names source and columns. It is searched
// as text: a run asks for one or two codes, and a map of 1,700 rows would cost every start.
//
//go:embed epsg_projected.csv
var projectedTable string

// withdrawnTable holds the codes EPSG has withdrawn among those systems.
//
//go:embed epsg_withdrawn.csv
var withdrawnTable string

// knownCodes is what the error for an unknown code offers instead.
const knownCodes = "known are EPSG:4326 and 4269 (degrees), 32601-32660 and 32701-32760 (UTM, WGS 84), " +
	"the UTM zones, State Plane zones and statewide grids of NAD83 and its realisations " +
	"(26901-26923, 26929-26998, 2222-2289, 5070, 3338 …), those of NAD27 in the conterminous United States " +
	"(4267, 26710-26719, 26729-26799, 32001-32058 …; for elevation rasters only) and 3857"

// FromEPSG returns the system with a code of the EPSG dataset: WGS 84, NAD83 and its realisations; UTM zones; all NAD83
// State Plane zones in metres and feet; statewide and county grids of the United States and Canada on NAD83; 3857; NAD27 and
// its zones in the conterminous United States, which are not for every use ([CRS.FitForLines]). The error says what to do
// about any other code.
func FromEPSG(code int) (CRS, error) {
	if d, ok := datumOfGeographic(code); ok {
		return newGeographic(d.name, d, code), nil
	}
	switch {
	case code >= 32601 && code <= 32660:
		return utm(code, code-32600, "N", 0), nil
	case code >= 32701 && code <= 32760:
		return utm(code, code-32700, "S", 10e6), nil
	case code == 3857:
		return newProjected(webMercatorName, wgs84Datum(), methodWebMercator, linearUnit{"m", 1}, parameters{k0: 1}, code)
	}
	if row, ok := tableRow(projectedTable, code); ok {
		return fromRow(code, row)
	}
	if row, ok := tableRow(withdrawnTable, code); ok {
		use, name, _ := strings.Cut(row, ",")
		return CRS{}, fmt.Errorf("EPSG:%d (%s) was withdrawn by EPSG; use --crs EPSG:%s if the coordinates fit it",
			code, name, use)
	}
	return CRS{}, fmt.Errorf("EPSG:%d is not a coordinate system this program knows; %s; "+
		"convert the file to EPSG:4326 first",
		code, knownCodes)
}

const webMercatorName = "WGS 84 / Pseudo-Mercator"

// utm makes a UTM zone on WGS 84; fn is its false northing in metres.
//
// Source: EPSG conversions 16001-16060 and 16101-16160.
func utm(code, zone int, hemisphere string, fn float64) CRS {
	p := parameters{lon0: float64(6*zone - 183), k0: 0.9996, fe: 500e3, fn: fn}
	name := "WGS 84 / UTM zone " + strconv.Itoa(zone) + hemisphere
	c, _ := newProjected(name, wgs84Datum(), methodTM, linearUnit{"m", 1}, p, code) // sound for every zone: tested
	return c
}

// wgs84Datum returns the first of the datums.
func wgs84Datum() datum { return datums()[0] }

// tableRow returns what follows a code in a table of codes.
func tableRow(table string, code int) (rest string, ok bool) {
	_, after, ok := strings.Cut(table, "\n"+strconv.Itoa(code)+",")
	rest, _, _ = strings.Cut(after, "\n")
	return rest, ok
}

// fromRow reads one row of the table of projected systems, its code cut off.
func fromRow(code int, row string) (CRS, error) {
	cells := strings.SplitN(row, ",", 13)
	bad := fmt.Errorf("EPSG:%d: broken table row %q", code, row)
	if len(cells) != 13 {
		return CRS{}, bad
	}
	datumCode, err := strconv.Atoi(cells[0])
	d, ok := datumByCode(datumCode)
	u, known := unitNamed(cells[1])
	if err != nil || !ok || !known {
		return CRS{}, bad
	}
	p := parameters{k0: 1}
	for i, v := range []*float64{&p.lat0, &p.lon0, &p.sp1, &p.sp2, &p.azimuth, &p.gamma, &p.k0, &p.fe, &p.fn} {
		cell := cells[3+i]
		if cell == "" {
			continue
		}
		if *v, err = strconv.ParseFloat(cell, 64); err != nil {
			return CRS{}, bad
		}
	}
	return newProjected(cells[12], d, methodShort(cells[2]), u, p, code)
}

// newProjected puts a projected system together; code 0 means none is known. It fails for constants that define no
// projection.
func newProjected(name string, d datum, m method, u linearUnit, p parameters, code int) (CRS, error) {
	pr, ok := m.build(d.el, p)
	if !ok {
		return CRS{}, fmt.Errorf("coordinate system %s: its parameters define no usable projection; "+
			"name the right one with --crs EPSG:n", quote(name))
	}
	c := CRS{name: name, code: code, note: d.noted(), datum: d.code, unit: u, proj: d.shifting(pr), par: p, kind: m}
	if m == methodWebMercator {
		c.note = strings.TrimPrefix(c.note+"; ", "; ") + "read only: lengths and areas are not true in this projection"
	}
	return c, nil
}

// newGeographic puts a system of longitude and latitude together; code 0 means none is known.
func newGeographic(name string, d datum, code int) CRS {
	c := CRS{name: name, code: code, note: d.noted(), datum: d.code, geo: true}
	if d.tie.move != (shift{}) {
		// Its degrees are a plane like any other, in a unit of so many radians.
		c.proj, c.unit = d.shifting(unprojected{}), linearUnit{"degree", degree}
	}
	return c
}

// shifting puts the datum's shift in front of a projection, where it has one.
func (d datum) shifting(p projection) projection {
	if d.tie.move == (shift{}) {
		return p
	}
	return shifted{on: p, el: d.el, wgs: wgs84(), move: d.tie.move}
}

// noted returns the datum's note with its name in front.
func (d datum) noted() string {
	if d.tie.note == "" {
		return ""
	}
	return d.name + " is " + d.tie.note
}
