package kml

import (
	"archive/zip"
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/feature"
	"rootworthy/internal/secondopinion"
)

// Texts that a spreadsheet or a page would take for more than text come back as they were.
func TestRoundTrip(t *testing.T) {
	got, faults, err := read(made(t, zones()))
	want := []string{
		`0:10 [[[[-86 38] [-85.984375 38] [-85.984375 38.015625] [-86 38.015625] [-86 38]] [[-85.99609375 38.00390625] [-85.99609375 38.0078125] [-85.9921875 38.0078125] [-85.9921875 38.00390625] [-85.99609375 38.00390625]]] [[[-85.5 38] [-85.484375 38] [-85.484375 38.015625] [-85.5 38.015625] [-85.5 38]]]] name="Z Été & \"fils\"" description="lime: 1.5 <short tons> & more" zone_id="Été & \"fils\"" cuts="4" ph="6.5" drained="true" sown="2024-09-15" folder="zones"`,
		`1:31 [[[[-85.75 38.125] [-85.734375 38.125] [-85.734375 38.140625] [-85.75 38.140625] [-85.75 38.125]]]] name="Z =cmd" description="lime: 1.5 <short tons> & more" zone_id="=cmd" drained="false" folder="zones"`,
		`2:43 [] it has no geometry name="Z no shape" description="lime: 1.5 <short tons> & more" zone_id="no shape" ph="0" folder="zones"`,
		`3:55 [] it is a Point, not a polygon name="S1" ph="5.5" folder="samples"`,
	}
	if err != nil || faults.Faults() != 2 || !reflect.DeepEqual(show(got), want) {
		t.Errorf("%v %v\n%s\nwant\n%s", err, faults, strings.Join(show(got), "\n"), strings.Join(want, "\n"))
	}
}

// A zip holds times; ours is fixed.
func TestSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	if err := errors.Join(WriteZip(&a, zones()), WriteZip(&b, zones())); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Errorf("two runs differ: %v", err)
	}
	z, err := zip.NewReader(bytes.NewReader(a.Bytes()), int64(a.Len()))
	if err != nil {
		t.Fatal(err)
	}
	if name, err := Main(z, ""); err != nil || name != "doc.kml" || z.File[0].Name != "doc.kml" {
		t.Errorf("%s %v", name, err)
	}
}

func TestMainOfAZip(t *testing.T) {
	for _, tc := range []struct {
		files, name, want string
	}{
		{"a.txt", "", "holds no .kml"},
		{"x/a.KML a.txt __MACOSX/._a.kml", "", "x/a.KML"},
		{"x/a.kml doc.kml", "", "doc.kml"},
		{"x/a.kml y/b.kml", "", "holds 2 .kml files; name one of them: x/a.kml, y/b.kml"},
		{"x/a.kml y/b.kml", "B.kml", "y/b.kml"},
		{"x/a.kml doc.kml", "c.kml", `holds no "c.kml"; there are: doc.kml, x/a.kml`},
	} {
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		for name := range strings.FieldsSeq(tc.files) {
			if _, err := z.Create(name); err != nil {
				t.Fatal(err)
			}
		}
		if err := z.Close(); err != nil {
			t.Fatal(err)
		}
		r, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
		if err != nil {
			t.Fatal(err)
		}
		got, err := Main(r, tc.name)
		if err != nil {
			got = err.Error()
		}
		if got != tc.want {
			t.Errorf("%s: got %s, want %s", tc.files, got, tc.want)
		}
	}
}

// TestColour is the worked example of the format: #2c7fb8 at 80 % is alpha, blue, green, red.
func TestColour(t *testing.T) {
	if got := abgr(zones().Styles[0].Fill); got != "ccb87f2c" {
		t.Errorf("got %s", got)
	}
}

func TestWhatCannotBeWritten(t *testing.T) {
	one := func(shape orb.MultiPolygon, values ...any) feature.Rows {
		return func(yield func(orb.MultiPolygon, []any) bool) { yield(shape, values) }
	}
	with := func(change func(*Document)) Document {
		d := zones()
		change(&d)
		return d
	}
	for name, tc := range map[string]struct {
		d    Document
		want string
	}{
		"style id":      {with(func(d *Document) { d.Styles[0].ID = `a"b` }), `style "a\"b": an id needs letters`},
		"style twice":   {with(func(d *Document) { d.Styles[1].ID = "suited" }), `style "suited": an id needs`},
		"unknown style": {with(func(d *Document) { d.Styles = nil }), `layer zones: row 1: there is no style "suited"`},
		"no name":       {with(func(d *Document) { d.Layers[0].Label = func([]any) string { return "" } }), "layer zones: row 1: it has no name"},
		"no rows":       {with(func(d *Document) { d.Layers[0].Rows = nil }), "layer zones: needs either polygons or points"},
		"value":         {with(func(d *Document) { d.Layers[0].Rows = one(nil, 1, nil, nil, nil, nil) }), "layer zones: row 1: column zone_id: 1 is no text"},
		"ring":          {with(func(d *Document) { d.Layers[0].Rows = one(orb.MultiPolygon{{{{0, 0}}}}, "a", nil, nil, true, nil) }), "layer zones: row 1: a ring has 1 points"},
	} {
		if err := Write(&bytes.Buffer{}, tc.d); err == nil || !strings.HasPrefix(err.Error(), tc.want) {
			t.Errorf("%s: got %v, want %s", name, err, tc.want)
		}
	}
	if err := Write(full{}, zones()); err == nil || err.Error() != "disk full" {
		t.Errorf("got %v", err)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

// TestIndependentChecker: the checker holds no code of ours; it reads the file with two npm packages and GDAL.
func TestIndependentChecker(t *testing.T) {
	check := secondopinion.Checker(t, secondopinion.Node)
	dir := t.TempDir()
	var packed bytes.Buffer
	if err := WriteZip(&packed, zones()); err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string][]byte{"f.kml": []byte(made(t, zones())), "f.kmz": packed.Bytes()} {
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, content, 0o644); err != nil {
			t.Fatal(err)
		}
		check("kml", file, "--strict", "--within=-87,37,-85,39")
	}
}
