package kml

import (
	"bytes"
	"encoding/json"
	"errors"
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

// polygon returns a Polygon with one triangle, and what it reads as.
const polygon = `<Polygon><outerBoundaryIs><LinearRing><coordinates>0,0 1,0 1,1 0,0</coordinates></LinearRing></outerBoundaryIs></Polygon>`
const triangle = `[[[[0 0] [1 0] [1 1] [0 0]]]]`

// Each case is a form of KML in use, or damage; what is told is the only fault or notice.
func TestRead(t *testing.T) {
	doc := func(s string) string {
		return `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document>` + s + `</Document></kml>`
	}
	mark := func(s string) string { return doc("<Placemark>" + s + "</Placemark>") }
	ring := func(coordinates string) string {
		return mark(`<Polygon><outerBoundaryIs><LinearRing><coordinates>` + coordinates + `</coordinates></LinearRing></outerBoundaryIs></Polygon>`)
	}
	for _, tc := range []struct {
		name, text string
		want       string // features, joined by a line end
		said       string // beginning of the only fault or notice, without its place; none when empty
	}{
		{"plain", mark(`<name> Home </name>` + polygon), `0:1 ` + triangle + ` name="Home"`, ""},
		{"old file without kml around it", `<Placemark>` + polygon + `</Placemark>`, `0:1 ` + triangle, ""},
		{"namespace of 2.1, prefixes", `<k:kml xmlns:k="http://earth.google.com/kml/2.1"><k:Placemark><k:Polygon><k:outerBoundaryIs><k:LinearRing><k:coordinates>0,0 1,0 1,1 0,0</k:coordinates></k:LinearRing></k:outerBoundaryIs></k:Polygon></k:Placemark></k:kml>`, `0:1 ` + triangle, ""},
		{"folders", doc(`<name>doc</name><Folder><Folder><name>North</name><Placemark>` + polygon + `</Placemark></Folder><name>Farm</name><Placemark>` + polygon + `</Placemark></Folder><Placemark>` + polygon + `</Placemark>`),
			`0:1 ` + triangle + ` folder="North"` + "\n" + `1:1 ` + triangle + ` folder="Farm"` + "\n" + `2:1 ` + triangle, ""},
		{"multigeometry in another, a point beside", mark(`<MultiGeometry><Point><coordinates>0,0</coordinates></Point><MultiGeometry>` + polygon + polygon + `</MultiGeometry></MultiGeometry>`),
			`0:1 ` + `[[[[0 0] [1 0] [1 1] [0 0]]] [[[0 0] [1 0] [1 1] [0 0]]]]`, "beside polygons it holds a Point, which is left out"},
		{"line", mark(`<LineString><coordinates>0,0 1,1</coordinates></LineString>`), `0:1 [] it is a LineString, not a polygon`, "it is a LineString"},
		{"nothing", mark(`<name>x</name>`), `0:1 [] it has no geometry name="x"`, "it has no geometry"},
		{"blanks beside commas, tabs, heights of zero", ring("\n 0 , 0 ,0\t1,0,0\n\n1,1,0  0,0 "), `0:1 ` + triangle, ""},
		{"heights", ring("0,0,5 1,0,5 1,1,5 0,0,5"), `0:1 ` + triangle, "it has heights, which are left out"},
		{"no number", ring("0,0 1,x 1,1 0,0"), `0:1 [] its coordinates hold "x", which is no number`, `its coordinates hold "x"`},
		{"lonely number", ring("0,0 1 1,1 0,0"), `0:1 [] a corner of it has only one number, 1`, "a corner of it"},
		{"empty ring", ring(" "), `0:1 [] it has no geometry`, "it has no geometry"},
		{"two outer", mark(`<Polygon><outerBoundaryIs>` + strings.Repeat(`<LinearRing><coordinates>0,0 1,0 1,1</coordinates></LinearRing>`, 2) + `</outerBoundaryIs></Polygon>`), `0:1 [] one of its polygons has two outer boundaries`, "one of its"},
		{"holes only", mark(`<Polygon><innerBoundaryIs><LinearRing><coordinates>0,0 1,0 1,1</coordinates></LinearRing></innerBoundaryIs></Polygon>`), `0:1 [] it has holes, but no outer boundary`, "it has holes"},
		{"hole first", mark(`<Polygon><innerBoundaryIs><LinearRing><coordinates>1,1 2,1 2,2 1,1</coordinates></LinearRing></innerBoundaryIs><outerBoundaryIs><LinearRing><coordinates>0,0 9,0 9,9</coordinates></LinearRing></outerBoundaryIs></Polygon>`),
			`0:1 [[[[0 0] [9 0] [9 9]] [[1 1] [2 1] [2 2] [1 1]]]]`, ""},
		{"values", doc(`<Schema name="s" id="S1"><SimpleField type="int" name="n"/><SimpleField type="double" name="r"/><SimpleField type="bool" name="b"/><SimpleField type="int" name="odd"/><SimpleField type="float" name="none"/></Schema>
<Placemark><ExtendedData><Data name="t"><displayName>T</displayName><value>7</value></Data><Data name="empty"/><SchemaData schemaUrl="#S1"><SimpleData name="n">12</SimpleData><SimpleData name="r">1e2</SimpleData><SimpleData name="b">1</SimpleData><SimpleData name="odd">a</SimpleData><SimpleData name="none"> </SimpleData><SimpleData name="free"> x</SimpleData></SchemaData></ExtendedData>` + polygon + `</Placemark>`),
			`0:2 ` + triangle + ` t="7" empty=null n=12 r=100 b=true odd="a" none=null free=" x"`, ""},
		{"name twice", mark(`<name>a</name><ExtendedData><Data name="name"><value>b</value></Data><Data name="x"><value>1</value></Data><Data name="x"><value>1</value></Data></ExtendedData>` + polygon), `0:1 ` + triangle + ` name="a" x="1"`, "the property stands twice"},
		{"link", doc(`<NetworkLink><Link><href>http://x.invalid</href></Link></NetworkLink><Placemark>` + polygon + `</Placemark>`), `0:1 ` + triangle, "what it links to elsewhere is not fetched"},
		{"breaks off", `<kml><Placemark>` + polygon + `</Placemark><Placemark>` + polygon[:60], `0:1 ` + triangle, "the file breaks off; the one feature before that is kept, the rest is lost"},
		{"styles are passed over", doc(`<Style id="a"><LineStyle><color>ff0000ff</color></LineStyle></Style><Placemark><styleUrl>#a</styleUrl>` + polygon + `</Placemark>`), `0:1 ` + triangle, ""},
	} {
		got, faults, err := read(tc.text)
		kept := faults.Kept()
		if err != nil || strings.Join(show(got), "\n") != tc.want || (tc.said == "") != (len(kept) == 0) || len(kept) > 1 || len(kept) == 1 && !strings.HasPrefix(kept[0].What, tc.said) {
			t.Errorf("%s: %v, said %v\n%s\nwant\n%s", tc.name, err, faults, strings.Join(show(got), "\n"), tc.want)
		}
	}
}

// Entities of a file's own are not unfolded, and nesting is bounded.
func TestNoKML(t *testing.T) {
	for _, tc := range []struct{ text, want string }{
		{"", "f.kml: is no KML: there is no element in it"},
		{"hello", "f.kml: is no KML: there is no element in it"},
		{"<!DOCTYPE html>\n<html><body>", "f.kml:2: its outermost element is html, not kml; it cannot be read as KML"},
		{"<kml><Document>\n<Placemark>", "f.kml:2: the file breaks off; it cannot be read as KML"},
		{`<!DOCTYPE kml [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]><kml><Placemark><name>&b;</name></Placemark></kml>`, "f.kml:1: it is no XML: invalid character entity &b;; it cannot be read as KML"},
		{"<kml>" + strings.Repeat("<Folder>", 10_000), "f.kml:1: elements are nested more than 200 deep; it cannot be read as KML"},
	} {
		if got, _, err := read(tc.text); err == nil || err.Error() != tc.want || len(got) > 0 {
			t.Errorf("%.40q: %v, want %s", tc.text, err, tc.want)
		}
	}
}

func TestErrorsAreReturned(t *testing.T) {
	stop := errors.New("enough")
	if err := Scan("f", strings.NewReader(made(t, zones())), &diag.List{}, func(feature.Feature) error { return stop }); err != stop {
		t.Errorf("got %v", err)
	}
}

// TestSecondWriter: what GDAL writes with both of its KML writers is read with the same shapes and texts.
func TestSecondWriter(t *testing.T) {
	ogr2ogr, err := exec.LookPath("ogr2ogr")
	if err != nil {
		t.Skip("ogr2ogr is not installed; it comes with gdal-bin")
	}
	const drawn = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"name":"Été & co","n":7,"r":6.25},"geometry":{"type":"MultiPolygon","coordinates":[[[[-86,38],[-85.99,38],[-85.99,38.01],[-86,38]]],[[[-85.5,38],[-85.4,38],[-85.4,38.1],[-85.5,38]]]]}},
{"type":"Feature","properties":{"name":"b","n":-1,"r":0.5},"geometry":{"type":"Polygon","coordinates":[[[-86,39],[-85.97,39],[-85.97,39.03],[-86,39]],[[-85.98,39.01],[-85.975,39.01],[-85.975,39.011],[-85.98,39.01]]]}}]}`
	want, err := geojson.Read("drawn", strings.NewReader(drawn), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	from := filepath.Join(dir, "from.geojson")
	if err := os.WriteFile(from, []byte(drawn), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, driver := range []string{"KML", "LIBKML"} {
		to := filepath.Join(dir, driver+".kml")
		if out, err := exec.Command(ogr2ogr, "-f", driver, to, from, "-nln", "drawn").CombinedOutput(); err != nil {
			t.Logf("%s: %s", driver, out) // not in every build
			continue
		}
		b, err := os.ReadFile(to)
		if err != nil {
			t.Fatal(err)
		}
		got, faults, err := read(string(b))
		if err != nil || len(got) != 2 || faults.Faults() > 0 {
			t.Fatalf("%s: %d features, %v, %v", driver, len(got), err, faults)
		}
		for i, f := range got {
			for _, p := range want.Features[i].Properties {
				given := feature.Feature{Properties: []feature.Property{feature.Property(p)}}
				if f.Text(p.Name) != given.Text(p.Name) {
					t.Errorf("%s: feature %d: %s = %q, drawn %s", driver, i, p.Name, f.Text(p.Name), p.Value)
				}
			}
			if !reflect.DeepEqual(f.Geometry, want.Features[i].Geometry) {
				t.Errorf("%s: feature %d: %v, drawn %v", driver, i, f.Geometry, want.Features[i].Geometry)
			}
		}
	}
}

// FuzzKML: whatever the text, reading ends; values are JSON; what was read and can be written is read the same.
func FuzzKML(f *testing.F) {
	var b bytes.Buffer
	if err := Write(&b, zones()); err != nil {
		f.Fatal(err)
	}
	f.Add(b.String())
	f.Add(`<kml><Placemark><MultiGeometry>` + polygon + polygon + `</MultiGeometry></Placemark>`)
	f.Add(`<kml><Schema id="a"><SimpleField name="n" type="int"/></Schema><Placemark><ExtendedData><SchemaData schemaUrl="#a"><SimpleData name="n">1</SimpleData></SchemaData></ExtendedData></Placemark></kml>`)
	f.Fuzz(func(t *testing.T, text string) {
		got, _, err := read(text)
		if err != nil {
			return
		}
		for _, g := range got {
			for _, p := range g.Properties {
				if !json.Valid(p.Value) {
					t.Fatalf("%s = %q, no JSON", p.Name, p.Value)
				}
			}
		}
		var out bytes.Buffer
		err = Write(&out, Document{Layers: []Layer{{Columns: []feature.Column{{Name: "a"}}, Label: func([]any) string { return "x" },
			Rows: func(yield func(orb.MultiPolygon, []any) bool) {
				for _, g := range got {
					if !yield(g.Geometry, []any{g.Text("name")}) {
						return
					}
				}
			}}}})
		if err != nil {
			return // corners that are no numbers, rings that surround nothing
		}
		again, _, err := read(out.String())
		if err != nil || len(again) != len(got) {
			t.Fatalf("%d features came back of %d: %v", len(again), len(got), err)
		}
		for i, g := range again {
			if want, err := feature.Ready(got[i].Geometry); err != nil || !g.Geometry.Equal(want) {
				t.Fatalf("feature %d came back as %v, was %v", i, g.Geometry, want)
			}
		}
	})
}

// circles is a document of 10,000 zones of 60 corners.
func circles() Document {
	l := zones().Layers[0]
	l.Style, l.Rows = nil, func(yield func(orb.MultiPolygon, []any) bool) {
		for i := range 10_000 {
			var r orb.Ring
			for k := range 60 {
				r = append(r, orb.Point{-90 + float64(i%100)/64 + float64(k%30)/8192, 38 + float64(i/100)/64 + float64(k/30)/8192})
			}
			if !yield(orb.MultiPolygon{{r}}, []any{"a", 1, 6.5, true, nil}) {
				return
			}
		}
	}
	return Document{Layers: []Layer{l}}
}

func BenchmarkRead10000(b *testing.B) {
	text := made(b, circles())
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if got, _, err := read(text); err != nil || len(got) != 10_000 {
			b.Fatal(err)
		}
	}
}

func BenchmarkWrite10000(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		b.SetBytes(int64(len(made(b, circles()))))
	}
}
