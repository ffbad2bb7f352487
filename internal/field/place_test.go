package field

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
	"rootworthy/internal/geo/shapefile"
)

// albers is a field near 42 N 93.5 W in EPSG:5070. Its first corner is a check value: PROJ 9.1.1 puts 42.0 N 93.5 W
// at 205641.8944, 2113617.4102.
func albers() orb.MultiPolygon {
	x, y := 205641.8944, 2113617.4102
	return orb.MultiPolygon{{{{x, y}, {x + 1600, y}, {x + 1600, y + 400}, {x, y + 400}, {x, y}}}}
}

// shapeFiles returns the parts of a shapefile of one record, in turn by name and content, with the .prj given.
func shapeFiles(t *testing.T, shape orb.MultiPolygon, prj string) []string {
	t.Helper()
	enc, err := shapefile.NewEncoder([]shapefile.Column{{Name: "FIELD_ID", Type: 'C'}, {Name: "ACRES", Type: 'N', Decimals: 2}},
		func(yield func(orb.MultiPolygon, []any) bool) { yield(shape, []any{"A1", 12.5}) })
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for ext, fill := range enc.Files() {
		var b bytes.Buffer
		if err := fill(&b); err != nil {
			t.Fatal(err)
		}
		switch {
		case ext == ".prj" && prj == "":
			continue
		case ext == ".prj":
			b.Reset()
			b.WriteString(prj)
		}
		out = append(out, "f"+ext, b.String())
	}
	return out
}

// readShape reads them through the first, their .shp.
func readShape(t *testing.T, opt Options, files []string) ([]Field, *diag.List, error) {
	t.Helper()
	faults := &diag.List{}
	fields, err := Read(t.Context(), []Source{{Name: files[0], Files: mapOf(files), Path: files[0]}}, opt, faults)
	return fields, faults, err
}

const utm15 = `PROJCS["NAD_1983_UTM_Zone_15N",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-93.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]`

// nad27Degrees is what a .prj says of degrees on NAD27, as PROJ 9.1.1 writes it (projinfo EPSG:4267 -o WKT1_ESRI).
const nad27Degrees = `GEOGCS["GCS_North_American_1927",DATUM["D_North_American_1927",SPHEROID["Clarke_1866",6378206.4,294.978698213898]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]`

// onNAD27 puts the text of a system on NAD83 onto the older datum.
func onNAD27(wkt string) string {
	return strings.NewReplacer("1983", "1927", "GRS_1980", "Clarke_1866", "6378137.0,298.257222101", "6378206.4,294.978698213898").Replace(wkt)
}

func TestProjectedShapefile(t *testing.T) {
	fields, faults, err := readShape(t, Options{CRS: "EPSG:5070"}, shapeFiles(t, albers(), ""))
	if err != nil || faults.Faults() > 0 || len(fields) != 1 || fields[0].ID != "A1" || string(fields[0].Attributes[1].Value) != "12.50" {
		t.Fatal(fields, err, faults)
	}
	first := fields[0].Shape[0][0][0]
	if math.Abs(first[0]+93.5) > 1e-9 || math.Abs(first[1]-42) > 1e-9 {
		t.Errorf("first corner at %v, PROJ has -93.5, 42", first)
	}
	// EPSG:5070 keeps areas: 1600 m × 400 m. Edges bend by up to 0.04 m there, so this fails without corners put in.
	if got, _ := proj.GeodesicArea(fields[0].Shape, proj.GeodesicOptions{Step: 5}); math.Abs(got-640000) > 0.5 {
		t.Errorf("area %v m², want 640000", got)
	}
	if n := len(fields[0].Shape[0][0]); n < 10 || n > 100 {
		t.Errorf("%d corners", n)
	}
}

// The figures of the zone are known without any program: see the comment at the corner.
func TestPRJIsFollowed(t *testing.T) {
	shape := orb.MultiPolygon{{{{500000, 4649776.22}, {500400, 4649776.22}, {500400, 4650176.22}, {500000, 4649776.22}}}}
	fields, faults, err := readShape(t, Options{}, shapeFiles(t, shape, utm15))
	if err != nil || faults.Faults() > 0 {
		t.Fatal(err, faults)
	}
	// The central meridian has easting 500000; 42 N lies 4649776.22 m from the equator along it (zone 15, GRS 80).
	if p := fields[0].Shape[0][0][0]; math.Abs(p[0]+93) > 1e-9 || math.Abs(p[1]-42) > 1e-6 {
		t.Errorf("first corner at %v, want -93, 42", p)
	}
}

// TestReferenceSystems: what is refused, with what was read, and what is only told.
func TestReferenceSystems(t *testing.T) {
	degrees := orb.MultiPolygon{{{{-91, 33}, {-90.99, 33}, {-90.99, 33.01}, {-91, 33}}}}
	swapped := orb.MultiPolygon{{{{33, -91}, {33.01, -91}, {33.01, -90.99}, {33, -91}}}}
	json := func(crs string) []string {
		return []string{"f.geojson", strings.Replace(collection(feature("1", "", square(-91, 33))), `"features"`, `"crs":{"type":"name","properties":{"name":"`+crs+`"}},"features"`, 1)}
	}
	for _, tc := range []struct {
		name  string
		opt   Options
		files []string
		err   string // beginning of the error
		told  string // part of the notices; nothing may be told when empty
	}{
		{"WGS 84", Options{}, shapeFiles(t, degrees, shapefile.WGS84), "", ""},
		{"no .prj, degrees", Options{}, shapeFiles(t, degrees, ""), "", "there is no .prj beside it; its coordinates are taken as longitude and latitude (WGS 84); name another system with --crs EPSG:n"},
		{"no .prj, metres", Options{}, shapeFiles(t, albers(), ""), "f.shp: its coordinates cannot be degrees, and a shapefile without a .prj says nothing of another reference system; name it with --crs EPSG:n", ""},
		{".prj not known", Options{}, shapeFiles(t, albers(), `LOCAL_CS["barn door grid",UNIT["Foot",0.3048]]`), "f.shp: ", ""},
		{".prj of another world", Options{}, shapeFiles(t, albers(), "rubbish"), "f.shp: ", ""},
		{".prj says degrees, coordinates do not", Options{}, shapeFiles(t, albers(), shapefile.WGS84), "f.shp: its coordinates cannot be degrees, but it says EPSG:4326; name its reference system with --crs EPSG:n", ""},
		{"--crs against the .prj", Options{CRS: "EPSG:26916"}, shapeFiles(t, orb.MultiPolygon{{{{5e5, 4e6}, {5.1e5, 4e6}, {5.1e5, 4.01e6}, {5e5, 4e6}}}}, utm15), "", "the file says NAD_1983_UTM_Zone_15N, --crs says EPSG:26916; --crs is followed"},
		{"--crs says the same as the .prj", Options{CRS: "EPSG:26915"}, shapeFiles(t, orb.MultiPolygon{{{{5e5, 4e6}, {5.1e5, 4e6}, {5.1e5, 4.01e6}, {5e5, 4e6}}}}, utm15), "", "f.shp: NAD83 is taken"},
		{"--crs in place of a .prj not known", Options{CRS: "EPSG:5070"}, shapeFiles(t, albers(), "rubbish"), "", "NAD83"},
		{".prj of NAD27", Options{}, shapeFiles(t, orb.MultiPolygon{{{{5e5, 4e6}, {5.1e5, 4e6}, {5.1e5, 4.01e6}, {5e5, 4e6}}}}, onNAD27(utm15)), `f.shp: coordinate system "NAD_1927_UTM_Zone_15N" stands on NAD27, which this program brings to WGS 84 only to about 10 m (EPSG:1173): too far off for lines that cut ground; convert the file to EPSG:4326`, ""},
		{".prj of NAD27, degrees", Options{}, shapeFiles(t, degrees, nad27Degrees), `f.shp: coordinate system "GCS_North_American_1927" (EPSG:4267) stands on NAD27`, ""},
		{"--crs of NAD27", Options{CRS: "EPSG:26715"}, shapeFiles(t, albers(), ""), `f.shp: coordinate system "NAD27 / UTM zone 15N" (EPSG:26715) stands on NAD27`, ""},
		{"GeoJSON says NAD27", Options{}, json("EPSG:4267"), `f.geojson: coordinate system "NAD27" (EPSG:4267) stands on NAD27`, ""},
		{"--crs in place of a .prj of NAD27", Options{CRS: "EPSG:26915"}, shapeFiles(t, orb.MultiPolygon{{{{5e5, 4e6}, {5.1e5, 4e6}, {5.1e5, 4.01e6}, {5e5, 4e6}}}}, onNAD27(utm15)), "", "the file says NAD_1927_UTM_Zone_15N, --crs says EPSG:26915; --crs is followed"},
		{"--crs not known", Options{CRS: "EPSG:99"}, shapeFiles(t, albers(), ""), "f.shp: --crs: ", ""},
		{"--crs in metres, file in degrees", Options{CRS: "EPSG:5070"}, shapeFiles(t, degrees, ""), "", "its coordinates are longitude and latitude already; --crs EPSG:5070 is not followed"},
		{"--crs in metres against a .prj, file in degrees", Options{CRS: "EPSG:5070"}, shapeFiles(t, degrees, utm15), "f.shp: its coordinates are degrees, not those of EPSG:5070", "--crs is followed"},
		{"latitude first", Options{}, shapeFiles(t, swapped, ""), "f.shp: its coordinates look like latitude, longitude; longitude must come first", ""},
		{"GeoJSON says WGS 84", Options{}, json("urn:ogc:def:crs:OGC:1.3:CRS84"), "", ""},
		{"GeoJSON says UTM, has degrees", Options{}, json("EPSG:26915"), "f.geojson: its coordinates are degrees, not those of EPSG:26915", ""},
		{"GeoJSON says what is not known", Options{}, json("EPSG:99"), "f.geojson: ", ""},
		{"GeoJSON says rubbish", Options{}, json("barn door grid"), "f.geojson: ", ""},
	} {
		_, faults, err := readShape(t, tc.opt, tc.files)
		said := ""
		if err != nil {
			said = err.Error()
		}
		if !strings.HasPrefix(said, tc.err) || (tc.err == "") != (err == nil) || !strings.Contains(faults.String(), tc.told) || tc.told == "" && len(faults.Kept()) > 0 {
			t.Errorf("%s: error %q, told %q\nwant %q, %q", tc.name, said, faults, tc.err, tc.told)
		}
		if strings.Count(said, "\n") > 0 {
			t.Errorf("%s: more than one sentence: %q", tc.name, said)
		}
	}
}

// TestRefusalQuotesWhatWasRead: the user must see which words were not understood.
func TestRefusalQuotesWhatWasRead(t *testing.T) {
	_, _, err := readShape(t, Options{}, shapeFiles(t, albers(), `LOCAL_CS["barn door grid",UNIT["Foot",0.3048]]`))
	if err == nil || !strings.HasPrefix(err.Error(), `f.shp: its .prj says "LOCAL_CS[\"barn door grid`) {
		t.Errorf("got %v", err)
	}
	_, _, err = read(t, Options{}, "f.geojson", strings.Replace(collection(feature("1", "", square(-91, 33))), `"features"`, `"crs":{"type":"name","properties":{"name":"barn door grid"}},"features"`, 1))
	if err == nil || !strings.Contains(err.Error(), "barn door grid") {
		t.Errorf("got %v", err)
	}
}

// 34, -82 is possible either way round, and only the survey shows which was meant.
func TestSwappedAgainstTheSurvey(t *testing.T) {
	fields, faults, err := read(t, Options{}, "f.geojson", collection(feature("1", "", square(-82.5, 34.3)), feature("2", "", square(34.3, -82.5)), feature("3", "", square(10, 10))))
	if err != nil {
		t.Fatal(err)
	}
	CheckAgainst(orb.Bound{Min: orb.Point{-83, 34}, Max: orb.Point{-82, 35}}, fields, faults)
	if want := "f.geojson:3 (2): it would lie in the survey only if its latitude and longitude were exchanged; export it again with longitude first\n"; faults.String() != want || faults.Faults() != 1 {
		t.Errorf("told %q, want %q", faults, want)
	}
}

// TestNeighboursKeepTheirLine: two projected fields with one edge get the same corners along it.
func TestNeighboursKeepTheirLine(t *testing.T) {
	system, err := proj.FromEPSG(5070)
	if err != nil {
		t.Fatal(err)
	}
	a, b := orb.Point{205641.8944, 2113617.4102}, orb.Point{207700, 2113000}
	there, _, ok1 := toLonLat(orb.Ring{a, b}, system)
	back, _, ok2 := toLonLat(orb.Ring{b, a}, system)
	back.Reverse()
	if !ok1 || !ok2 || len(there) < 4 || !there.Equal(back) {
		t.Errorf("there %v\nback  %v", there, back)
	}
}

// TestAcrossTheDateLine: a field whose corners jump from 180° east to 180° west is refused, whatever its system; one
// that was cut there is not.
func TestAcrossTheDateLine(t *testing.T) {
	read := func(t *testing.T, content, crs string) ([]Field, *diag.List) {
		faults := &diag.List{}
		fields, err := Read(t.Context(), []Source{{Name: "f.geojson", Files: mapOf([]string{"f.geojson", content}), Path: "f.geojson"}}, Options{CRS: crs}, faults)
		if err != nil {
			t.Fatal(err)
		}
		return fields, faults
	}
	for name, tc := range map[string]struct{ content, crs string }{
		"degrees":    {`{"type":"Polygon","coordinates":[[[179.99,52],[-179.99,52],[-179.99,52.01],[179.99,52.01],[179.99,52]]]}`, ""},
		"UTM zone 1": {`{"type":"Polygon","coordinates":[[[293000,5765000],[295000,5765000],[295000,5766000],[293000,5766000],[293000,5765000]]]}`, "EPSG:32601"},
	} {
		fields, faults := read(t, tc.content, tc.crs)
		if len(fields) != 1 || fields[0].Trouble == "" || len(fields[0].Shape) > 0 || !strings.Contains(faults.String(), "180° meridian") {
			t.Errorf("%s: %+v\n%v", name, fields, faults)
		}
	}
	cut := `{"type":"MultiPolygon","coordinates":[[[[179.99,52],[180,52],[180,52.01],[179.99,52.01],[179.99,52]]],[[[-180,52],[-179.99,52],[-179.99,52.01],[-180,52.01],[-180,52]]]]}`
	if fields, faults := read(t, cut, ""); len(fields) != 1 || fields[0].Trouble != "" || faults.Faults() > 0 {
		t.Errorf("cut: %+v\n%v", fields, faults)
	}
}
