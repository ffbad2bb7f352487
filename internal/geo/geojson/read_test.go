package geojson

import (
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

func read(t testing.TB, text string) (Collection, *diag.List, error) {
	t.Helper()
	faults := &diag.List{}
	c, err := Read("f.geojson", strings.NewReader(text), faults)
	return c, faults, err
}

const ring = `[[0,0],[4,0],[4,3],[0,0]]`

var triangle = orb.Ring{{0, 0}, {4, 0}, {4, 3}, {0, 0}}

// The order of members is free in JSON, and nesting is often wrong by one: each case is a way to write the same ground.
func TestFormsOfGeometry(t *testing.T) {
	one := orb.MultiPolygon{{triangle}}
	two := orb.MultiPolygon{{triangle, triangle}, {triangle}}
	for name, tc := range map[string]struct {
		text string
		want orb.MultiPolygon
	}{
		"polygon":                  {`{"type":"Polygon","coordinates":[` + ring + `]}`, one},
		"members the other way":    {`{"coordinates":[` + ring + `],"type":"Polygon"}`, one},
		"multipolygon":             {`{"type":"MultiPolygon","coordinates":[[` + ring + `,` + ring + `],[` + ring + `]]}`, two},
		"heights passed over":      {`{"type":"Polygon","coordinates":[[[0,0,7],[4,0,7],[4,3,7,8],[0,0,7]]]}`, one},
		"collection":               {`{"type":"GeometryCollection","geometries":[{"type":"Polygon","coordinates":[` + ring + `,` + ring + `]},{"type":"Polygon","coordinates":[` + ring + `]}]}`, two},
		"collection in collection": {`{"type":"GeometryCollection","geometries":[{"geometries":[{"type":"Polygon","coordinates":[` + ring + `]}],"type":"GeometryCollection"}]}`, one},
		"empty parts":              {`{"type":"MultiPolygon","coordinates":[[],[[]],[` + ring + `]]}`, one},
		"numbers in every form":    {`{"type":"Polygon","coordinates":[[[0,0.0],[4e0,-0],[40E-1,0.3e+1],[0,0]]]}`, orb.MultiPolygon{{{{0, 0}, {4, 0}, {4, 3}, {0, 0}}}}},
		"white space and BOM":      {"\ufeff\r\n { \"type\" : \"Polygon\" ,\t\"coordinates\" : [ " + ring + " ] } \n", one},
	} {
		for form, text := range map[string]string{
			"bare": tc.text, "feature": `{"type":"Feature","properties":null,"geometry":` + tc.text + `}`,
			"list": `{"features":[{"geometry":` + tc.text + `,"properties":{},"type":"Feature"}],"type":"FeatureCollection"}`,
		} {
			if form != "bare" {
				text = strings.ReplaceAll(text, "\ufeff", "")
			}
			c, faults, err := read(t, text)
			if err != nil || len(faults.Kept()) > 0 || len(c.Features) != 1 || !reflect.DeepEqual(c.Features[0].Geometry, tc.want) {
				t.Errorf("%s, %s: got %v, %v, %v, want %v", name, form, c.Features, err, faults, tc.want)
			}
		}
	}
}

// Digits, order and spelling, for they are written out again as the user's own.
func TestPropertiesAreKeptAsRead(t *testing.T) {
	c, faults, err := read(t, `{"type":"FeatureCollection","features":[
{"type":"Feature","id":"a \u00e9\ud83c\udf31","properties":{"z":1.10,"big":123456789012345678901234567890,"e":1E400,"t":"q\"\\\n<&>é","l":[1, {"k": null}],"o":{},"n":null,"b":true},"geometry":{"type":"Polygon","coordinates":[`+ring+`]}},
{"type":"Feature","id":12.50,"properties":{},"geometry":{"type":"Polygon","coordinates":[`+ring+`]}}]}`)
	if err != nil || len(faults.Kept()) > 0 {
		t.Fatal(err, faults)
	}
	want := []string{`z=1.10`, `big=123456789012345678901234567890`, `e=1E400`, `t="q\"\\\n<&>é"`, `l=[1,{"k":null}]`, `o={}`, `n=null`, `b=true`}
	var got []string
	for _, p := range c.Features[0].Properties {
		got = append(got, p.Name+"="+string(p.Value))
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if a, b := c.Features[0], c.Features[1]; a.ID != "a é🌱" || b.ID != "12.50" || a.Line != 2 || b.Line != 3 || b.Index != 1 {
		t.Errorf("ids %q, %q, lines %d, %d", a.ID, b.ID, a.Line, b.Line)
	}
}

// mark stands before the place a fault must name; the line is counted from it.
const mark = "«"

// TestMarkedFaults: the line told is that of the mark, and reading goes on behind it where that is possible.
func TestMarkedFaults(t *testing.T) {
	feature := `{"type":"Feature","id":"ok","properties":{},"geometry":{"type":"Polygon","coordinates":[` + ring + `]}}`
	wrap := func(s string) string {
		return "{\"type\":\"FeatureCollection\",\n\"features\":[\n" + feature + ",\n" + s + ",\n" + feature + "\n]}\n"
	}
	geometry := func(s string) string {
		return wrap("«{\"type\":\"Feature\",\n\"id\":\"bad\",\"properties\":{},\n\"geometry\":" + s + "}")
	}
	for _, tc := range []struct {
		name, text string
		kept, sick int    // features read, and how many of them have a reason
		want       string // part of the fault
		severity   diag.Severity
	}{
		{"a point", geometry(`{"type":"Point","coordinates":[1,2]}`), 3, 1, "(feature 2, id \"bad\"): it is a Point, not a polygon", diag.Wrong},
		{"a line", geometry(`{"type":"LineString","coordinates":[[1,2],[3,4]]}`), 3, 1, "it is a LineString, not a polygon", diag.Wrong},
		{"no geometry", geometry(`null`), 3, 1, "it has no geometry", diag.Wrong},
		{"text as geometry", geometry(`"POLYGON((0 0))"`), 3, 1, "its geometry is no object", diag.Wrong},
		{"empty polygon", geometry(`{"type":"Polygon","coordinates":[]}`), 3, 1, "it has no geometry", diag.Wrong},
		{"no coordinates", geometry(`{"type":"Polygon"}`), 3, 1, "it has no geometry", diag.Wrong},
		{"no type", geometry(`{"coordinates":[` + ring + `]}`), 3, 1, `its geometry has no "type"`, diag.Wrong},
		{"text as number", geometry(`{"type":"Polygon","coordinates":[[["1",2],[3,4]]]}`), 3, 1, "coordinates hold something else than lists of numbers", diag.Wrong},
		{"null as number", geometry(`{"type":"Polygon","coordinates":[[[1,null],[3,4]]]}`), 3, 1, "a position holds something else than numbers", diag.Wrong},
		{"one number", geometry(`{"type":"Polygon","coordinates":[[[1],[3,4]]]}`), 3, 1, "a position has fewer than two numbers", diag.Wrong},
		{"uneven", geometry(`{"type":"Polygon","coordinates":[[[1,2],[[3,4]]]]}`), 3, 1, "nested unevenly", diag.Wrong},
		{"too deep", geometry(`{"type":"Polygon","coordinates":[[[[[1,2]]]]]}`), 3, 1, "nested deeper than those of a MultiPolygon", diag.Wrong},
		{"no list", geometry(`{"type":"Polygon","coordinates":{"x":1}}`), 3, 1, "its coordinates are no list", diag.Wrong},
		{"no object", wrap("«17"), 3, 1, "(feature 2): it is no object", diag.Wrong},
		{"wrong nesting", wrap(`{"type":"Feature","properties":{},` + "\n" + `"geometry":{"type":"Polygon","coordinates":[[` + ring + `]]«}}`), 3, 0, "nested 4 deep where a Polygon has 3; they are read as they stand", diag.Notice},
		{"a ring alone", wrap(`{"type":"Feature","properties":{},` + "\n" + `"geometry":{"type":"Polygon","coordinates":` + ring + `«}}`), 3, 0, "nested 2 deep where a Polygon has 3", diag.Notice},
		{"point in collection", wrap(`{"type":"Feature","properties":{},` + "\n" + `"geometry":{"type":"GeometryCollection","geometries":[{"type":"Polygon","coordinates":[` + ring + `]},{"type":"Point","coordinates":[1,2]}]}«}`), 3, 0, "beside polygons it holds a Point, which is left out", diag.Notice},
		{"property twice", wrap(`{"type":"Feature","geometry":{"type":"Polygon","coordinates":[` + ring + `]},"properties":{"a":1,` + "\n«" + `"a":2}}`), 3, 0, "a: the property stands twice; the last one counts", diag.Notice},
		{"member twice", wrap(`{"type":"Feature","geometry":null,` + "\n«" + `"geometry":{"type":"Polygon","coordinates":[` + ring + `]},"properties":{}}`), 3, 0, "geometry: the member stands twice", diag.Notice},
		{"NaN property", wrap(`{"type":"Feature","geometry":{"type":"Polygon","coordinates":[` + ring + `]},"properties":{` + "\n«" + `"a":-NaN}}`), 3, 0, "-NaN is no number and counts as missing", diag.Notice},
		{"properties no object", wrap(`{"type":"Feature","geometry":{"type":"Polygon","coordinates":[` + ring + `]},` + "\n«" + `"properties":[1]}`), 3, 0, "properties: its properties are no object and are left out", diag.Wrong},
		{"not UTF-8", wrap(`{"type":"Feature","geometry":{"type":"Polygon","coordinates":[` + ring + `]},` + "\n«" + `"properties":{"a":"` + "\xe9" + `"}}`), 3, 0, "it holds text that is no UTF-8", diag.Wrong},
		{"id is a list", wrap(`{"type":"Feature","geometry":{"type":"Polygon","coordinates":[` + ring + `]},` + "\n«" + `"id":[1],"properties":{}}`), 3, 0, "id: its id is neither a text nor a number", diag.Notice},
		{"cut off", wrap("")[:len(wrap(""))-len(feature)-6] + "«" + `{"type":"Feature","geom`, 1, 0, "the file ends in the middle; the one feature before that is kept, the rest is lost", diag.Wrong},
		{"bad word", wrap("«" + `{"type":"Feature","id":None}`), 1, 0, `"None" is no JSON value; the one feature before that is kept`, diag.Wrong},
		{"missing comma", wrap("«" + feature + " " + feature), 2, 0, `"{" stands where a comma or "]" must stand`, diag.Wrong},
		{"text not closed", wrap("«" + "{\"type\":\"Fea\nture\"}"), 1, 0, "byte 0x0A stands inside a text without its closing quote", diag.Wrong},
		{"behind the end", wrap(feature) + "\n«{}", 3, 0, "stands behind the end of the GeoJSON", diag.Wrong},
	} {
		at := strings.Index(tc.text, mark)
		line := 1 + strings.Count(tc.text[:at], "\n")
		c, faults, err := read(t, strings.Replace(tc.text, mark, "", 1))
		if err != nil || len(faults.Kept()) != 1 {
			t.Errorf("%s: %v, faults %v, want one", tc.name, err, faults)
			continue
		}
		sick := 0
		for _, f := range c.Features {
			if f.Reason != "" {
				sick++
			}
		}
		f := faults.Kept()[0]
		if f.Line != line || f.Severity != tc.severity || !strings.Contains(f.String(), tc.want) || len(c.Features) != tc.kept || sick != tc.sick {
			t.Errorf("%s: kept %d (%d sick), %v: %s\nwant %d (%d), %v: line %d: %s", tc.name, len(c.Features), sick, f.Severity, f, tc.kept, tc.sick, tc.severity, line, tc.want)
		}
	}
}

// The files that people give by mistake, and those that are made to harm.
func TestWhatIsNoGeoJSON(t *testing.T) {
	deep := strings.Repeat("[", 100_000)
	for name, tc := range map[string][2]string{
		"empty":              {"", "f.geojson: is empty"},
		"white":              {" \n ", "f.geojson: holds nothing but white space"},
		"BOM alone":          {"\ufeff", "f.geojson: holds nothing but white space"},
		"UTF-16":             {"\xff\xfe{\x00", "f.geojson: is no UTF-8 text (UTF-16?); save it as UTF-8"},
		"web page":           {"<html>", "f.geojson: is no GeoJSON but XML or a web page"},
		"a list":             {"[1]", `f.geojson: is no GeoJSON: it begins with "[", not {`},
		"binary":             {"\x00\x00'\n", "f.geojson: is no GeoJSON: it begins with byte 0x00, not {"},
		"other JSON":         {`{"a":1}`, `f.geojson: is JSON, but no GeoJSON: it has no "type"`},
		"other type":         {`{"type":"Topology","arcs":[]}`, `f.geojson: is JSON of type "Topology", not GeoJSON`},
		"no list":            {`{"type":"FeatureCollection"}`, `f.geojson: is a FeatureCollection without "features"`},
		"cut at once":        {"{\n\"type\":", "f.geojson:2: the file ends in the middle; it cannot be read as GeoJSON"},
		"deep lists":         {`{"type":"Polygon","coordinates":` + deep, "f.geojson:1: values are nested more than 500 deep; it cannot be read as GeoJSON"},
		"deep objects":       {`{"a":` + strings.Repeat(`{"a":`, 100_000), "f.geojson:1: values are nested more than 500 deep; it cannot be read as GeoJSON"},
		"deep property":      {`{"type":"Feature","properties":{"a":` + deep, "f.geojson:1: values are nested more than 500 deep; it cannot be read as GeoJSON"},
		"deep collections":   {`{"type":"Feature","geometry":` + strings.Repeat(`{"type":"GeometryCollection","geometries":[`, 100_000), "f.geojson:1: values are nested more than 500 deep; it cannot be read as GeoJSON"},
		"text of 5 MB":       {`{"type":"` + strings.Repeat("x", 5<<20), "f.geojson:1: a text is longer than 4194304 bytes; it cannot be read as GeoJSON"},
		"number of 2000":     {`{"type":"Polygon","coordinates":[[[` + strings.Repeat("1", 2000), "f.geojson:1: a number or word is longer than 1000 letters; it cannot be read as GeoJSON"},
		"property of 5 MB":   {`{"type":"Feature","properties":{"a":[` + strings.Repeat("0,", 3<<20), "f.geojson:1: a value is longer than 4194304 bytes; it cannot be read as GeoJSON"},
		"comma too many":     {`{"type":"Polygon",}`, `f.geojson:1: a comma stands before "}"; it cannot be read as GeoJSON`},
		"half an escape":     {`{"type":"\u00g0"}`, `f.geojson:1: "g" is no digit of a \u escape; it cannot be read as GeoJSON`},
		"name without quote": {`{type:"Polygon"}`, `f.geojson:1: "t" stands where a name in quotes must stand; it cannot be read as GeoJSON`},
	} {
		c, faults, err := read(t, tc[0])
		if err == nil || err.Error() != tc[1] || len(c.Features) > 0 || faults.Faults() > 0 {
			t.Errorf("%s: got %d features, %v, %v, want %s", name, len(c.Features), err, faults, tc[1])
		}
	}
}

func TestCRSMember(t *testing.T) {
	// The first form of each code is that of the GeoJSON Format Specification 1.0, section 3.1; the others are in use.
	for text, want := range map[string]CRS{
		`{"type":"name","properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}}`:              {"urn:ogc:def:crs:OGC:1.3:CRS84", 4326, 2},
		`{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::26915"}}`:                {"urn:ogc:def:crs:EPSG::26915", 26915, 2},
		`{"type":"name","properties":{"name":"EPSG:5070"}}`:                                  {"EPSG:5070", 5070, 2},
		`{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG:8.5:4269"}}`:              {"urn:ogc:def:crs:EPSG:8.5:4269", 4269, 2},
		`{"type":"name","properties":{"name":"http://www.opengis.net/def/crs/EPSG/0/3857"}}`: {"http://www.opengis.net/def/crs/EPSG/0/3857"[:40] + "…", 3857, 2},
		`{"type":"EPSG","properties":{"code":4326}}`:                                         {"EPSG:4326", 4326, 2},
		`null`: {},
		`{"type":"link","properties":{"href":"x"}}`:            {`{"type":"link","properties":{"href":"x"}}`[:40] + "…", 0, 2},
		`{"type":"name","properties":{"name":"EPSG:12x"}}`:     {"EPSG:12x", 0, 2},
		`{"type":"name","properties":{"name":"local grid 7"}}`: {"local grid 7", 0, 2},
	} {
		c, _, err := read(t, "{\"type\":\"FeatureCollection\",\n\"crs\":"+text+",\"features\":[]}")
		if err != nil || c.CRS != want {
			t.Errorf("%s: got %+v, %v, want %+v", text, c.CRS, err, want)
		}
		if c.CRS.Known() != (want.EPSG > 0 || want.Text == "") {
			t.Errorf("%s: Known is %v", text, c.CRS.Known())
		}
	}
}

func TestEachErrorEndsTheScan(t *testing.T) {
	stop := fmt.Errorf("enough")
	text := `{"type":"FeatureCollection","features":[{"type":"Feature"},{"type":"Feature"}]}`
	n := 0
	_, err := Scan("f", strings.NewReader(text), &diag.List{}, func(Feature) error { n++; return stop })
	if err != stop || n != 1 {
		t.Errorf("%v after %d features", err, n)
	}
}

// TestTexts: escapes as RFC 8259 section 7 has them; half a letter becomes U+FFFD.
func TestTexts(t *testing.T) {
	for text, want := range map[string]string{
		`\"\\\/\b\f\n\r\t`:   "\"\\/\b\f\n\r\t",
		`\u0041\u00E9\u20ac`: "Aé€",
		`\uD834\uDD1E`:       "\U0001D11E", // the RFC's own example, the G clef
		`\uD834`:             "\ufffd",
		`\uD834x`:            "\ufffdx",
		`\uD834\u0041`:       "\ufffdA",
		`\uDD1E\uD834`:       "\ufffd\ufffd",
		`é€🌱`:                "é€🌱",
	} {
		c, _, err := read(t, `{"type":"Feature","id":"`+text+`"}`)
		if err != nil || len(c.Features) != 1 || c.Features[0].ID != want {
			t.Errorf("%s: got %q, %v, want %q", text, c.Features[0].ID, err, want)
		}
	}
	for _, bad := range []string{`\x41`, `\u12`, `\u12G4`, "a\tb", `\`} {
		if _, _, err := read(t, `{"type":"Feature","id":"`+bad+`"}`); err == nil {
			t.Errorf("%q is accepted", bad)
		}
	}
}

// TestSlowReader hands the file over byte by byte, so that every look ahead meets the end of the buffer.
func TestSlowReader(t *testing.T) {
	text := "\ufeff" + `{"type":"Feature","id":"\ud83c\udf31\u00e9","properties":{"a":-12.5e3},"geometry":{"type":"Polygon","coordinates":[` + ring + `]}}`
	want, _, err := read(t, text)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Read("f.geojson", iotest.OneByteReader(strings.NewReader(text)), &diag.List{})
	if err != nil || !reflect.DeepEqual(got, want) || got.Features[0].ID != "🌱é" {
		t.Errorf("got %v, %v, want %v", got, err, want)
	}
	broken := errors.New("disk on fire")
	_, err = Read("f.geojson", io.MultiReader(strings.NewReader(text[:60]), iotest.ErrReader(broken)), &diag.List{})
	if !errors.Is(err, broken) || !strings.HasPrefix(err.Error(), "f.geojson: ") {
		t.Errorf("error of the reader: %v", err)
	}
}
