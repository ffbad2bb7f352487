package proj

import (
	"strings"
	"testing"
)

const (
	esriNAD83 = `GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]`
	esriUTM15 = `PROJCS["NAD_1983_UTM_Zone_15N",` + esriNAD83 + `,PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-93.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]`
)

// TestRefusals: what is not taken is refused with what was read and with the way out.
func TestRefusals(t *testing.T) {
	swap := func(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(esriUTM15) }
	for name, c := range map[string]struct{ text, says string }{
		"empty":              {" \r\n\x00", "is empty"},
		"not WKT":            {"<html>", `byte 1: "<html>" found where a keyword`},
		"cut off":            {esriUTM15[:200], "byte "},
		"no closing quote":   {`GEOGCS["WGS`, "a closing quote should stand"},
		"more behind":        {esriUTM15 + "]", "nothing more should stand"},
		"bad number":         {`GEOGCS["a",DATUM["b",SPHEROID["c",63.78.137]]]`, "a number should stand"},
		"too long":           {strings.Repeat(" GEOGCS", 10000), "too many"},
		"too deep":           {strings.Repeat("A[", 1000), "byte "},
		"old datum":          {swap("D_North_American_1983", "D_Tokyo"), `datum "D_Tokyo"`},
		"NAD27 Michigan":     {swap("D_North_American_1983", "D_North_American_Michigan"), `datum "D_North_American_Michigan"`},
		"NAD27 on GRS 80":    {swap("D_North_American_1983", "D_North_American_1927"), "inverse flattening 298.257222101"},
		"county ellipsoid":   {swap("D_North_American_1983", "D_NAD_1983_HARN_Adj_MN_Anoka"), `"D_NAD_1983_HARN_Adj_MN_Anoka"`},
		"wrong ellipsoid":    {swap("298.257222101", "294.978698214"), "ellipsoid"},
		"Paris":              {swap(`"Greenwich",0.0`, `"Paris",2.5969213`), `"Paris" (2.5969213)`},
		"grads":              {swap("0.0174532925199433", "0.01570796326794897"), "0.01570796326794897 radians"},
		"other projection":   {swap("Transverse_Mercator", "Cassini"), `"Cassini"`},
		"unknown parameter":  {swap("Scale_Factor", "Squeeze"), `"Squeeze" 0.9996`},
		"missing parameter":  {swap("Latitude_Of_Origin", "False_Northing"), `lacks the parameter "latitude_of_origin"`},
		"absurd scale":       {swap("0.9996", "9996"), "no usable projection"},
		"no unit":            {swap(`,UNIT["Meter",1.0]]`, "]"), "unit of length"},
		"zero unit":          {swap(`"Meter",1.0`, `"Meter",0`), "unit of length"},
		"southward":          {swap(`UNIT["Meter",1.0]`, `UNIT["Meter",1.0],AXIS["S",SOUTH],AXIS["W",WEST]`), "south or west"},
		"override":           {swap(`UNIT["Meter",1.0]`, `UNIT["Meter",1.0],EXTENSION["PROJ4","+proj=tmerc"]`), "extension"},
		"no datum":           {`GEOGCS["bare"]`, `"bare" names no datum`},
		"no base":            {`PROJCS["bare"]`, "geographic system"},
		"local":              {`LOCAL_CS["farm grid",UNIT["Meter",1.0]]`, "LOCAL_CS"},
		"geocentric":         {`GEODCRS["WGS 84",DATUM["World Geodetic System 1984",ELLIPSOID["WGS 84",6378137,298.257223563]],CS[Cartesian,3]]`, "geocentric"},
		"parallels cancel":   {swap("Transverse_Mercator", "Albers", `PARAMETER["Scale_Factor",0.9996]`, `PARAMETER["Standard_Parallel_1",20],PARAMETER["Standard_Parallel_2",-20]`), "no usable projection"},
		"mercator elsewhere": {swap("Transverse_Mercator", "Mercator_Auxiliary_Sphere", `PARAMETER["Scale_Factor",0.9996]`, `PARAMETER["Standard_Parallel_1",20]`), "no usable projection"},
	} {
		crs, err := Parse(c.text)
		if err == nil {
			t.Errorf("%s: taken as %v", name, crs)
			continue
		}
		if !strings.Contains(err.Error(), c.says) || len(err.Error()) > 600 {
			t.Errorf("%s: error %q does not say %q", name, err, c.says)
		}
		if name != "too long" && !strings.Contains(err.Error(), "--crs EPSG:n") {
			t.Errorf("%s: error %q does not say what to do", name, err)
		}
	}
}

// TestAcceptedVariants: one system, written as files write it.
func TestAcceptedVariants(t *testing.T) {
	vert := `,VERTCS["NAVD_1988",VDATUM["North_American_Vertical_Datum_1988"],PARAMETER["Vertical_Shift",0.0],UNIT["Meter",1.0]]`
	for name, text := range map[string]string{
		"plain":            esriUTM15,
		"byte order mark":  "\ufeff" + esriUTM15 + "\r\n",
		"round brackets":   strings.NewReplacer("[", "(", "]", ")").Replace(esriUTM15),
		"blanks":           strings.NewReplacer("[", " [ ", ",", " ,\n\t").Replace(esriUTM15),
		"lower case":       strings.ToLower(esriUTM15),
		"vertical beside":  esriUTM15 + vert,
		"compound":         `COMPD_CS["with heights",` + esriUTM15 + strings.Replace(vert, "VERTCS", "VERT_CS", 1) + `]`,
		"other parameters": strings.NewReplacer("Central_Meridian", "longitude_of_center", "Transverse_Mercator", "Gauss_Kruger").Replace(esriUTM15),
		"no meridian":      strings.Replace(esriUTM15, `,PRIMEM["Greenwich",0.0]`, "", 1),
		"WGS 84 figure":    strings.Replace(esriUTM15, "298.257222101", "298.257223563", 1),
	} {
		crs, err := Parse(text)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		want, _ := FromEPSG(26915)
		p, ok := crs.ToLonLat([2]float64{450000, 4650000})
		q, _ := want.ToLonLat([2]float64{450000, 4650000})
		if !ok || p != q || crs.Note() != want.Note() || crs.Geographic() {
			t.Errorf("%s: %v (%s) gives %v, want %v", name, crs, crs.Note(), p, q)
		}
	}
}

// TestFalseClaim: a text that calls itself by a code it does not describe is used as written, and says so.
func TestFalseClaim(t *testing.T) {
	claim := func(code string) string {
		return strings.TrimSuffix(esriUTM15, "]") + `,AUTHORITY["EPSG","` + code + `"]]`
	}
	right, err := Parse(claim("26915"))
	if code, ok := right.EPSG(); err != nil || code != 26915 || !ok || right.String() != "EPSG:26915" || right.Name() != "NAD_1983_UTM_Zone_15N" {
		t.Errorf("right claim: %v %q, %v", right, right.Name(), err)
	}
	for _, code := range []string{"26916", "32615", "4326", "5070"} {
		crs, err := Parse(claim(code))
		if _, ok := crs.EPSG(); err != nil || ok || !strings.Contains(crs.Note(), "calls itself EPSG:"+code) {
			t.Errorf("claim of %s: %v, note %q, %v", code, crs, crs.Note(), err)
		}
	}
	for _, code := range []string{"x", "999999", "-5", "99999999999999999999"} {
		if crs, err := Parse(claim(code)); err != nil || crs.String() != "NAD_1983_UTM_Zone_15N" {
			t.Errorf("claim of %s: %v, %v", code, crs, err)
		}
	}
}

// TestCodesRefused: unknown and withdrawn codes say what to do.
func TestCodesRefused(t *testing.T) {
	for code, says := range map[int]string{
		26979: "use --crs EPSG:2205",  // Kentucky North, withdrawn for a wrong parallel
		26747: "use --crs EPSG:26799", // NAD27 California zone VII, likewise
		26705: "convert the file",     // NAD27 UTM in Alaska, which the one shift does not reach
		26731: "convert the file",     // NAD27 Alaska zone 1
		4268:  "convert the file",     // NAD27 Michigan
		0:     "EPSG:0 is not", -1: "EPSG:-1 is not", 32661: "EPSG:32661 is not", 32700: "not a coordinate system", 26924: "not a",
	} {
		if crs, err := FromEPSG(code); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("FromEPSG(%d) = %v, %v, want an error with %q", code, crs, err, says)
		}
	}
}

func TestFromName(t *testing.T) {
	for name, want := range map[string]string{
		"EPSG:26915": "EPSG:26915", " epsg:5070 ": "EPSG:5070", "4326": "EPSG:4326", "CRS84": "EPSG:4326",
		"urn:ogc:def:crs:OGC:1.3:CRS84": "EPSG:4326", "urn:ogc:def:crs:EPSG::3857": "EPSG:3857",
		"urn:ogc:def:crs:OGC:1.3:CRS83": "EPSG:4269", "http://www.opengis.net/def/crs/EPSG/0/4269": "EPSG:4269",
	} {
		if crs, err := FromName(name); err != nil || crs.String() != want {
			t.Errorf("FromName(%q) = %v, %v, want %s", name, crs, err, want)
		}
	}
	for _, name := range []string{"", "utm", "EPSG:", "EPSG:x", "ESRI:102003", "EPSG:-4326", "EPSG:26705", strings.Repeat("é", 1000)} {
		if crs, err := FromName(name); err == nil || len(err.Error()) > 700 {
			t.Errorf("FromName(%q) = %v, %v, want a short error", name, crs, err)
		}
	}
}
