package geotiff

import (
	"fmt"
	"strconv"
	"strings"

	"rootworthy/internal/geo/proj"
)

// crs turns the keys into a coordinate system. Codes are looked up; a system that is spelled out is put into the words of
// a .prj file and read as one, so that datum, unit and constants meet the same tests.
func (g geoKeys) crs() (proj.CRS, error) {
	if len(g.list) == 0 {
		return proj.CRS{}, fmt.Errorf("%s is missing: it names no coordinate system; write the raster again with one, such as EPSG:5070", tagName(tagKeyDirectory))
	}
	for _, id := range []uint64{keyCitation, keyGeogCitation} {
		// Some writers put the whole system as text into the citation and codes that say less beside it.
		if _, wkt, ok := strings.Cut(g.text(id), "ESRI PE String = "); ok {
			return proj.Parse(wkt)
		}
	}
	// 1 projected, 2 geographic.
	model, _ := g.number(keyModelType)
	projected, _ := g.number(keyProjected)
	geographic, _ := g.number(keyGeographic)
	switch {
	// The code of a projected system names the geographic one and the unit with it.
	case projected != 0 && projected != userDefined:
		return proj.FromEPSG(int(projected))
	case model == 2 && geographic != 0 && geographic != userDefined:
		return proj.FromEPSG(int(geographic))
	// a model of 0 says nothing: what keys are there decides
	case model == 2 || model == 0 && projected == 0 && geographic != 0:
		wkt, err := g.geographic()
		if err != nil {
			return proj.CRS{}, err
		}
		return proj.Parse(wkt)
	case model == 1 || model == 0 && projected != 0:
		return g.spelled()
	}
	return proj.CRS{}, fmt.Errorf("GeoTIFF key %d: model type %d is neither projected (1) nor geographic (2); write the raster again in a known system, such as EPSG:5070",
		keyModelType, model)
}

// geographic writes the geographic system in the words of a .prj file.
func (g geoKeys) geographic() (string, error) {
	// 9102 and 9122 are both the degree.
	if unit, ok := g.number(keyAngularUnit); ok && unit != 9102 && unit != 9122 {
		return "", fmt.Errorf("GeoTIFF key %d: angles in unit %d, not in degrees (9102); bring the raster to another system first",
			keyAngularUnit, unit)
	}
	meridian, hasMeridian := g.number(keyPrimeMeridian)
	if at, ok := g.double(keyPrimeMeridianAt); hasMeridian && meridian != 8901 && !(ok && at == 0) {
		return "", fmt.Errorf("GeoTIFF key %d: longitude is counted from meridian %d, not from Greenwich (8901); "+
			"bring the raster to another system first", keyPrimeMeridian, meridian)
	}
	// no code, or the user's own: the datum may still be one that is known
	code, _ := g.number(keyGeographic)
	if code == 0 || code == userDefined {
		code = geographicOf(g)
	}
	if code != 0 {
		c, err := proj.FromEPSG(int(code))
		if err != nil {
			return "", err
		}
		spheroid := `SPHEROID["GRS 1980",6378137,298.257222101]`
		switch code {
		case 4326:
			spheroid = `SPHEROID["WGS 84",6378137,298.257223563]`
		case 4267:
			spheroid = `SPHEROID["Clarke 1866",6378206.4,294.978698213898]`
		}
		return geogcs(c.Name(), c.Name(), spheroid), nil
	}
	a, okA := g.double(keySemiMajor)
	f, okF := g.double(keyInverseFlat)
	name := datumOf(g.text(keyGeogCitation))
	if !okA || !okF || name == "" {
		return "", fmt.Errorf("GeoTIFF key %d: the datum is not named; write the raster again in a known system, such as EPSG:5070", keyDatum)
	}
	return geogcs(name, name, fmt.Sprintf("SPHEROID[%q,%s,%s]", "unnamed", digits(a), digits(f))), nil
}

// geogcs puts a geographic system together. Quotes within names would end them.
func geogcs(name, datum, spheroid string) string {
	return fmt.Sprintf(`GEOGCS["%s",DATUM["%s",%s],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]`,
		unquoted(name), unquoted(datum), spheroid)
}

// unquoted keeps a name from ending the text that it is put into.
func unquoted(s string) string { return strings.ReplaceAll(s, `"`, "'") }

// digits writes all digits of a number and no exponent, as .prj files have them.
func digits(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// geographicOf returns the code of the geographic system on a datum that is given by its code; 0 when it is not.
//
// Source: EPSG Geodetic Parameter Dataset, datums 6326, 6269 and 6267; as GeoTIFF 1.0, section 6.3.2.2, lists them.
func geographicOf(g geoKeys) uint64 {
	switch d, _ := g.number(keyDatum); d {
	case 6326:
		return 4326
	case 6269:
		return 4269
	case 6267:
		return 4267
	}
	return 0
}

// datumOf takes the name of the datum out of a citation such as "GCS Name = NAD83|Datum = North_American_Datum_1983|…",
// or takes the whole as a name.
func datumOf(citation string) string {
	for part := range strings.SplitSeq(citation, "|") {
		if k, v, ok := strings.Cut(part, "="); ok && strings.TrimSpace(k) == "Datum" {
			return strings.TrimSpace(v)
		}
	}
	return strings.TrimSpace(citation)
}
