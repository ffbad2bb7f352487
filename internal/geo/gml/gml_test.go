package gml

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/geojson"
)

func read(text string) (CRS, []feature.Feature, *diag.List, error) {
	faults := &diag.List{}
	var out []feature.Feature
	crs, err := Scan("f.gml", strings.NewReader(text), faults, func(f feature.Feature) error { out = append(out, f); return nil })
	return crs, out, faults, err
}

// show prints features for comparison.
func show(fs []feature.Feature) string {
	var out []string
	for _, f := range fs {
		s := fmt.Sprintf("%s %v", f.ID, f.Geometry)
		if f.Reason != "" {
			s += " " + f.Reason
		}
		for _, p := range f.Properties {
			s += " " + p.Name + "=" + string(p.Value)
		}
		out = append(out, s)
	}
	return strings.Join(out, "\n")
}

const head = `<wfs:FeatureCollection xmlns:wfs="http://www.opengis.net/wfs" xmlns:gml="http://www.opengis.net/gml" xmlns:ms="http://x.invalid/ms">`

// collection returns a file with one feature of that content.
func collection(content string) string {
	return head + `<gml:featureMember><ms:unit gml:id="u.1">` + content + `</ms:unit></gml:featureMember></wfs:FeatureCollection>`
}

// posList returns a geometry property of GML 3 with one ring.
func posList(attributes, numbers string) string {
	return `<ms:shape><gml:Polygon ` + attributes + `><gml:exterior><gml:LinearRing><gml:posList>` + numbers + `</gml:posList></gml:LinearRing></gml:exterior></gml:Polygon></ms:shape>`
}

// Half of the cases are about which of the two numbers is the latitude: that is where answers of services differ.
func TestRead(t *testing.T) {
	const turned, plain = "[[[[-82 34] [-81 34] [-81 35] [-82 34]]]]", "[[[[34 -82] [34 -81] [35 -81] [34 -82]]]]"
	const numbers = "34 -82 34 -81 35 -81 34 -82"
	for _, tc := range []struct {
		name, text string
		want       string
		crs        int
		said       string // beginning of the only fault or notice; none when empty
	}{
		{"latitude first", collection(posList(`srsName="EPSG:4326"`, numbers)), "u.1 " + turned, 4326, ""},
		{"urn", collection(posList(`srsName="urn:ogc:def:crs:EPSG::4269"`, numbers)), "u.1 " + turned, 4269, ""},
		{"address", collection(posList(`srsName="http://www.opengis.net/gml/srs/epsg.xml#4326"`, numbers)), "u.1 " + turned, 4326, ""},
		{"CRS84", collection(posList(`srsName="urn:ogc:def:crs:OGC:1.3:CRS84"`, numbers)), "u.1 " + plain, 4326, ""},
		{"projected", collection(posList(`srsName="EPSG:5070"`, numbers)), "u.1 " + plain, 5070, ""},
		{"no system", collection(posList(``, numbers)), "u.1 " + plain, 0, ""},
		{"longitude first against the standard", collection(posList(`srsName="EPSG:4326"`, "-96 34 -95 34 -95 35")), "u.1 [[[[-96 34] [-95 34] [-95 35]]]]", 4326, "longitude stands before latitude"},
		{"longitude first, shown by the first feature alone", collection(posList(`srsName="EPSG:4326"`, "-96 34 -95 34 -95 35") + `</ms:unit><ms:unit>` + posList(`srsName="EPSG:4326"`, "-89 34 -88 34 -88 35")),
			"u.1 [[[[-96 34] [-95 34] [-95 35]]]]\n [[[[-89 34] [-88 34] [-88 35]]]]", 4326, "longitude stands before latitude, against the standard; it is read so"},
		{"longitude first, shown too late", collection(posList(`srsName="EPSG:4326"`, "-89 34 -88 34 -88 35") + `</ms:unit><ms:unit>` + posList(`srsName="EPSG:4326"`, "-96 34 -95 34 -95 35")),
			"u.1 [[[[34 -89] [34 -88] [35 -88]]]]\n [[[[-96 34] [-95 34] [-95 35]]]]", 4326, "longitude stands before latitude, against the standard; nothing showed it in what was read before (features: 1)"},
		{"properties", collection(`<ms:mukey>570</ms:mukey><ms:musym> Ap&amp;B </ms:musym><ms:empty></ms:empty><ms:mukey>2</ms:mukey>` + posList(``, numbers)),
			`u.1 ` + plain + ` mukey="570" musym="Ap&B" empty=null`, 0, "the property stands more than once"},
		{"heights", collection(posList(`srsDimension="3"`, "34 -82 7 34 -81 7 35 -81 7 34 -82 7")), "u.1 " + plain, 0, "it has heights"},
		{"wrong dimension", collection(posList(`srsDimension="3"`, numbers)), "u.1 [] its list of 8 numbers does not divide into positions of 3", 0, "its list of 8"},
		{"no number", collection(posList(``, "34 x")), `u.1 [] its coordinates hold "x", which is no number`, 0, `its coordinates hold "x"`},
		{"surface of patches, several positions", collection(`<ms:g><gml:MultiSurface><gml:surfaceMembers><gml:Surface><gml:patches><gml:PolygonPatch><gml:exterior><gml:LinearRing><gml:pos>34 -82</gml:pos><gml:pos>34 -81</gml:pos><gml:pos>35 -81</gml:pos><gml:pos>34 -82</gml:pos></gml:LinearRing></gml:exterior></gml:PolygonPatch></gml:patches></gml:Surface></gml:surfaceMembers></gml:MultiSurface></ms:g>`), "u.1 " + plain, 0, ""},
		{"ring of curves, a hole", collection(`<ms:g><gml:Polygon><gml:exterior><gml:Ring><gml:curveMember><gml:LineString><gml:posList>0 0 9 0</gml:posList></gml:LineString></gml:curveMember><gml:curveMember><gml:Curve><gml:segments><gml:LineStringSegment><gml:posList>9 9 0 0</gml:posList></gml:LineStringSegment></gml:segments></gml:Curve></gml:curveMember></gml:Ring></gml:exterior><gml:interior><gml:LinearRing><gml:posList>2 1 3 1 3 2 2 1</gml:posList></gml:LinearRing></gml:interior></gml:Polygon></ms:g>`),
			"u.1 [[[[0 0] [9 0] [9 9] [0 0]] [[2 1] [3 1] [3 2] [2 1]]]]", 0, ""},
		{"arc", collection(`<ms:g><gml:Polygon><gml:exterior><gml:Ring><gml:curveMember><gml:Curve><gml:segments><gml:Arc><gml:posList>0 0 1 1 2 0</gml:posList></gml:Arc></gml:segments></gml:Curve></gml:curveMember></gml:Ring></gml:exterior></gml:Polygon></ms:g>`),
			"u.1 [] a boundary holds a Arc, which is not read; only straight edges are", 0, "a boundary holds a Arc"},
		{"GML 2", head + `<gml:featureMember><ms:unit fid="u.7"><gml:boundedBy><gml:Box><gml:coordinates>0,0 1,1</gml:coordinates></gml:Box></gml:boundedBy><ms:g><gml:MultiPolygon srsName="EPSG:4326"><gml:polygonMember><gml:Polygon><gml:outerBoundaryIs><gml:LinearRing><gml:coordinates>-82,34 -81,34 -81,35 -82,34</gml:coordinates></gml:LinearRing></gml:outerBoundaryIs></gml:Polygon></gml:polygonMember></gml:MultiPolygon></ms:g></ms:unit></gml:featureMember></wfs:FeatureCollection>`, "u.7 " + turned, 4326, ""},
		{"GML 2, other signs", collection(`<ms:g><gml:Polygon><gml:outerBoundaryIs><gml:LinearRing><gml:coordinates decimal="," cs=" " ts=";">-82,5 34;-81 34;-81 35</gml:coordinates></gml:LinearRing></gml:outerBoundaryIs></gml:Polygon></ms:g>`), "u.1 [[[[-82.5 34] [-81 34] [-81 35]]]]", 0, ""},
		{"GML 2, coord", collection(`<ms:g><gml:Polygon><gml:outerBoundaryIs><gml:LinearRing><gml:coord><gml:X>-82</gml:X><gml:Y>34</gml:Y></gml:coord><gml:coord><gml:Y>35</gml:Y><gml:X>-81</gml:X></gml:coord></gml:LinearRing></gml:outerBoundaryIs></gml:Polygon></ms:g>`), "u.1 [[[[-82 34] [-81 35]]]]", 0, ""},
		{"point", collection(`<ms:g><gml:Point><gml:pos>1 2</gml:pos></gml:Point></ms:g>`), "u.1 [] it is a Point, not a polygon", 0, "it is a Point"},
		{"nothing", collection(`<ms:a>1</ms:a>`), `u.1 [] it has no geometry a="1"`, 0, "it has no geometry"},
		{"many in one member", strings.ReplaceAll(collection(posList(``, numbers)+`</ms:unit><ms:unit>`+posList(``, numbers)), "featureMember", "featureMembers"), "u.1 " + plain + "\n " + plain, 0, ""},
		{"breaks off", collection(posList(``, numbers))[:len(collection(posList(``, numbers)))-30], "u.1 " + plain, 0, "the file breaks off; the one feature before that is kept"},
		{"two systems", collection(posList(`srsName="EPSG:5070"`, numbers) + `</ms:unit><ms:unit>` + posList(`srsName="EPSG:26915"`, numbers)), "u.1 " + plain + "\n " + plain, 5070, "a feature is in EPSG:26915, others in EPSG:5070"},
	} {
		crs, got, faults, err := read(tc.text)
		kept := faults.Kept()
		if err != nil || show(got) != tc.want || crs.EPSG != tc.crs || (tc.said == "") != (len(kept) == 0) || len(kept) > 1 || len(kept) == 1 && !strings.HasPrefix(kept[0].What, tc.said) {
			t.Errorf("%s: %v %v, said %v\n%s\nwant\n%s", tc.name, err, crs, faults, show(got), tc.want)
		}
	}
}

func TestNoGML(t *testing.T) {
	for _, tc := range []struct{ text, want string }{
		{"", "f.gml: is no GML: there is no element in it"},
		{"<html><body>down for maintenance", "f.gml:1: its outermost element is html, not FeatureCollection; it cannot be read as GML"},
		{`<ServiceExceptionReport><ServiceException code="x">
 no such   layer</ServiceException></ServiceExceptionReport>`, "f.gml:1: the service answered with an error: no such layer; it cannot be read as GML"},
		{head + "\n<gml:featureMember>", "f.gml:2: the file breaks off; it cannot be read as GML"},
	} {
		if _, got, _, err := read(tc.text); err == nil || err.Error() != tc.want || len(got) > 0 {
			t.Errorf("%.40q: %v, want %s", tc.text, err, tc.want)
		}
	}
	if _, got, faults, err := read(head + `</wfs:FeatureCollection>`); err != nil || len(got) > 0 || len(faults.Kept()) > 0 {
		t.Errorf("an answer without features: %v %v %v", got, faults, err)
	}
	stop := errors.New("enough")
	if _, err := Scan("f", strings.NewReader(collection("")), &diag.List{}, func(feature.Feature) error { return stop }); err != stop {
		t.Errorf("the caller's error: %v", err)
	}
}

// folder holds a real answer of the public soil map service and what others made of it.
const folder = "../../../../shared/data/fields-sc/"

// TestRealAnswer: the answer of the soil map service has the same polygons, keys and symbols as the GeoJSON file beside
// it, which GDAL and its user made of it: 145 polygons of 24 map units.
func TestRealAnswer(t *testing.T) {
	text, err := os.ReadFile(folder + "ssurgo_mapunit_response.gml")
	if os.IsNotExist(err) {
		t.Skipf("real data are not there: %v", err)
	}
	if err != nil {
		t.Fatal(err)
	}
	crs, got, faults, err := read(string(text))
	if err != nil || len(faults.Kept()) > 0 || crs.EPSG != 4326 || len(got) != 145 {
		t.Fatalf("%d features, %v, %v, %v", len(got), crs, faults, err)
	}
	keys := map[string]bool{}
	for _, f := range got {
		keys[f.Text("mukey")] = true
		if b := f.Geometry.Bound(); b.Min[0] < -83 || b.Max[0] > -82 || b.Min[1] < 34 || b.Max[1] > 35 {
			t.Errorf("%s lies at %v", f.ID, b)
		}
	}
	if len(keys) != 24 {
		t.Errorf("%d map units", len(keys))
	}
	file, err := os.Open(folder + "ssurgo_mapunits_raw.geojson")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	other, err := geojson.Read("other", file, &diag.List{})
	if err != nil || len(other.Features) != len(got) {
		t.Fatalf("%d features in the other, %v", len(other.Features), err)
	}
	for i, f := range got {
		o := feature.Feature{}
		for _, p := range other.Features[i].Properties {
			o.Properties = append(o.Properties, feature.Property(p))
		}
		for _, name := range []string{"mukey", "musym", "muname"} {
			if f.Text(name) != o.Text(name) {
				t.Errorf("feature %d: %s = %q, other %q", i, name, f.Text(name), o.Text(name))
			}
		}
		if !reflect.DeepEqual(f.Geometry, other.Features[i].Geometry) {
			t.Errorf("feature %d: shapes differ", i)
		}
	}
}

// TestSecondWriter: what GDAL writes as GML 2, 3 and 3.2 is read with the same shapes and texts.
func TestSecondWriter(t *testing.T) {
	ogr2ogr, err := exec.LookPath("ogr2ogr")
	if err != nil {
		t.Skip("ogr2ogr is not installed; it comes with gdal-bin")
	}
	const drawn = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"mukey":"570","muname":"Été & co"},"geometry":{"type":"MultiPolygon","coordinates":[[[[-86,38],[-85.99,38],[-85.99,38.01],[-86,38]]],[[[-85.5,38],[-85.4,38],[-85.4,38.1],[-85.5,38]]]]}},
{"type":"Feature","properties":{"mukey":"571","muname":"b"},"geometry":{"type":"Polygon","coordinates":[[[-86,39],[-85.97,39],[-85.97,39.03],[-86,39]],[[-85.98,39.01],[-85.975,39.01],[-85.975,39.011],[-85.98,39.01]]]}}]}`
	want, err := geojson.Read("drawn", strings.NewReader(drawn), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	from := filepath.Join(dir, "from.geojson")
	if err := os.WriteFile(from, []byte(drawn), 0o644); err != nil {
		t.Fatal(err)
	}
	for i, format := range []string{"GML2", "GML3", "GML3.2"} {
		to := filepath.Join(dir, fmt.Sprint(i, ".gml"))
		if out, err := exec.Command(ogr2ogr, "-f", "GML", "-dsco", "FORMAT="+format, to, from, "-nln", "drawn").CombinedOutput(); err != nil {
			t.Fatalf("%s: %v %s", format, err, out)
		}
		b, err := os.ReadFile(to)
		if err != nil {
			t.Fatal(err)
		}
		crs, got, faults, err := read(string(b))
		if err != nil || len(got) != 2 || faults.Faults() > 0 || crs.EPSG != 4326 {
			t.Fatalf("%s: %d features, %v, %v, %v", format, len(got), crs, err, faults)
		}
		for i, f := range got {
			for _, p := range want.Features[i].Properties {
				given := feature.Feature{Properties: []feature.Property{feature.Property(p)}}
				if f.Text(p.Name) != given.Text(p.Name) {
					t.Errorf("%s: feature %d: %s = %q, drawn %s", format, i, p.Name, f.Text(p.Name), p.Value)
				}
			}
			if !reflect.DeepEqual(f.Geometry, want.Features[i].Geometry) {
				t.Errorf("%s: feature %d: %v, drawn %v", format, i, f.Geometry, want.Features[i].Geometry)
			}
		}
	}
}

// FuzzGML: whatever the text, reading ends; values are JSON; the same text is read the same twice; a feature without a
// reason has a shape.
func FuzzGML(f *testing.F) {
	f.Add(collection(posList(`srsName="EPSG:4326"`, "34 -82 34 -81 35 -81 34 -82") + `<ms:mukey>1</ms:mukey>`))
	f.Add(collection(`<ms:g><gml:Polygon><gml:outerBoundaryIs><gml:LinearRing><gml:coordinates decimal="," cs=" " ts=";">-82,5 34;-81 34;-81 35</gml:coordinates></gml:LinearRing></gml:outerBoundaryIs></gml:Polygon></ms:g>`))
	f.Fuzz(func(t *testing.T, text string) {
		_, got, _, err := read(text)
		_, again, _, err2 := read(text)
		if (err == nil) != (err2 == nil) || show(got) != show(again) {
			t.Fatalf("read as\n%s\nand as\n%s", show(got), show(again))
		}
		points := 0
		for _, g := range got {
			if (g.Reason == "") != (len(g.Geometry) > 0) {
				t.Fatalf("feature %v", g)
			}
			points += corners(g.Geometry)
			for _, p := range g.Properties {
				if !json.Valid(p.Value) {
					t.Fatalf("%s = %q, no JSON", p.Name, p.Value)
				}
			}
		}
		if points > len(text)/3+1 {
			t.Fatalf("%d points in %d letters", points, len(text))
		}
	})
}

func corners(mp orb.MultiPolygon) (n int) {
	for _, p := range mp {
		for _, r := range p {
			n += len(r)
		}
	}
	return n
}

func BenchmarkRead10000(b *testing.B) {
	var text strings.Builder
	text.WriteString(head)
	for range 10_000 {
		text.WriteString(`<gml:featureMember><ms:unit gml:id="u.1"><ms:mukey>570</ms:mukey>` + posList(`srsName="EPSG:4326"`, strings.Repeat("34.341813 -82.525061 ", 60)) + `</ms:unit></gml:featureMember>`)
	}
	text.WriteString(`</wfs:FeatureCollection>`)
	b.SetBytes(int64(text.Len()))
	b.ReportAllocs()
	for b.Loop() {
		if _, got, _, err := read(text.String()); err != nil || len(got) != 10_000 {
			b.Fatal(err)
		}
	}
}
