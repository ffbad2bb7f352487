package field

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	geofeature "rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/flatgeobuf"
	"rootworthy/internal/geo/geopackage"
	"rootworthy/internal/geo/kml"
)

// twoFields are two boundaries with an id and a number each, as rows to write.
func twoFields() ([]geofeature.Column, geofeature.Rows) {
	return []geofeature.Column{{Name: "field_id"}, {Name: "acres", Type: geofeature.Real}}, func(yield func(orb.MultiPolygon, []any) bool) {
		_ = yield(orb.MultiPolygon{{{{-91, 33}, {-90.5, 33}, {-90.5, 33.5}, {-91, 33}}}}, []any{"A1", 12.5}) &&
			yield(orb.MultiPolygon{{{{-92, 33}, {-91.5, 33}, {-91.5, 33.5}, {-92, 33}}}}, []any{"A2", nil})
	}
}

// inFormat returns the two boundaries in a format.
func inFormat(t *testing.T, format string) string {
	t.Helper()
	cols, rows := twoFields()
	var b bytes.Buffer
	var err error
	switch format {
	case "gpkg":
		err = geopackage.Write(t.Context(), &b, []geopackage.Content{{Name: "fields", Columns: cols, Rows: rows}}, time.Time{})
	case "two layers":
		err = geopackage.Write(t.Context(), &b, []geopackage.Content{{Name: "other", Columns: cols, Rows: func(func(orb.MultiPolygon, []any) bool) {}}, {Name: "fields", Columns: cols, Rows: rows}}, time.Time{})
	case "fgb":
		err = flatgeobuf.Write(&b, flatgeobuf.Content{Name: "fields", Columns: cols, Rows: rows})
	case "kml", "kmz":
		d := kml.Document{Layers: []kml.Layer{{Name: "fields", Columns: cols, Rows: rows, Label: func(v []any) string { return fmt.Sprint("Field ", v[0]) }}}}
		write := map[string]func() error{"kml": func() error { return kml.Write(&b, d) }, "kmz": func() error { return kml.WriteZip(&b, d) }}
		err = write[format]()
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestEveryFormatGivesTheSameFields: ids, shapes and numbers; whatever the file is called.
func TestEveryFormatGivesTheSameFields(t *testing.T) {
	const gmlText = `<?xml version="1.0"?><wfs:FeatureCollection xmlns:wfs="http://www.opengis.net/wfs" xmlns:gml="http://www.opengis.net/gml">
<gml:featureMember><f><g><gml:Polygon srsName="EPSG:4326"><gml:exterior><gml:LinearRing><gml:posList>33 -91 33 -90.5 33.5 -90.5 33 -91</gml:posList></gml:LinearRing></gml:exterior></gml:Polygon></g><field_id>A1</field_id><acres>12.5</acres></f></gml:featureMember>
<gml:featureMember><f><g><gml:Polygon srsName="EPSG:4326"><gml:exterior><gml:LinearRing><gml:posList>33 -92 33 -91.5 33.5 -91.5 33 -92</gml:posList></gml:LinearRing></gml:exterior></gml:Polygon></g><field_id>A2</field_id></f></gml:featureMember></wfs:FeatureCollection>`
	to := func(href string) string { return "<NetworkLink><Link><href>" + href + "</href></Link></NetworkLink>" }
	for _, tc := range []struct{ name, content, layer string }{
		{"f.gpkg", inFormat(t, "gpkg"), ""},
		{"odd name", inFormat(t, "gpkg"), "FIELDS"},
		{"two.gpkg", inFormat(t, "two layers"), "fields"},
		{"f.fgb", inFormat(t, "fgb"), ""},
		{"f.kml", inFormat(t, "kml"), ""},
		{"f.xml", inFormat(t, "kml"), ""},
		{"f.kmz", inFormat(t, "kmz"), ""},
		{"links.kmz", packed(t, "doc.kml", "<kml><Document>"+to("layers/my%20fields.kml")+to("layers/my fields.kml")+"</Document></kml>", "layers/my fields.kml", inFormat(t, "kml")), ""},
		{"f.gml", gmlText, ""},
		{"kml.zip", zipOf(t, []string{"a.kml", inFormat(t, "kml"), "readme.txt", ""}), ""},
		{"fgb.zip", zipOf(t, []string{"a.fgb", inFormat(t, "fgb"), "b.geojson", "{"}), "a.fgb"},
	} {
		faults := &diag.List{}
		fields, err := Read(t.Context(), []Source{{Name: tc.name, Files: mapOf([]string{tc.name, tc.content}), Path: tc.name, Layer: tc.layer}}, Options{}, faults)
		if err != nil || len(faults.Kept()) > 0 {
			t.Errorf("%s: %v %v", tc.name, err, faults)
			continue
		}
		byID := map[string]Field{}
		for _, f := range fields { // FlatGeobuf has them in an order of its own
			byID[f.ID] = f
		}
		a, b := byID["A1"], byID["A2"]
		if len(fields) != 2 || fmt.Sprint(a.Shape) != "[[[[-91 33] [-90.5 33] [-90.5 33.5] [-91 33]]]]" || fmt.Sprint(b.Shape) != "[[[[-92 33] [-91.5 33] [-91.5 33.5] [-92 33]]]]" {
			t.Errorf("%s: %v", tc.name, fields)
		}
		acres := ""
		for _, at := range a.Attributes {
			if at.Name == "acres" {
				acres = strings.Trim(string(at.Value), `"`)
			}
		}
		if acres != "12.5" {
			t.Errorf("%s: attributes %v", tc.name, a.Attributes)
		}
	}
}

// TestLayersThatCannotBeRead: one sentence, with the layers there are.
func TestLayersThatCannotBeRead(t *testing.T) {
	for _, tc := range []struct{ name, content, layer, want string }{
		{"f.gpkg", inFormat(t, "two layers"), "", "f.gpkg: holds 2 layers; name one of them: other, fields"},
		{"f.gpkg", inFormat(t, "gpkg"), "soil", `f.gpkg: holds no layer "soil"; there are: fields`},
		{"f.gpkg", "", "", "f.gpkg: is empty"},
		{"f.gpkg", "hello", "", "f.gpkg: is no SQLite database, or is encrypted"},
		{"f.fgb", "", "", "f.fgb: is empty"},
		{"f.fgb", inFormat(t, "fgb")[:50], "", "f.fgb: is cut off within its header; copy it again"},
		{"f.kml", "", "", "f.kml: is no KML: there is no element in it"},
		{"f.kml", "<html></html>", "", "f.kml:1: its outermost element is html, not kml; it cannot be read as KML"},
		{"f.kml", "<kml></kml>", "", "f.kml: holds no polygons"},
		{"f.zip", zipOf(t, []string{"a.gpkg", inFormat(t, "gpkg")}), "", "f.zip/inner/a.gpkg: is a database, which cannot be read within a zip; unpack it"},
		{"f.xml", "<ServiceExceptionReport>no</ServiceExceptionReport>", "", "f.xml:1: the service answered with an error: no; it cannot be read as GML"},
	} {
		_, err := Read(t.Context(), []Source{{Name: tc.name, Files: mapOf([]string{tc.name, tc.content}), Path: tc.name, Layer: tc.layer}}, Options{}, &diag.List{})
		if err == nil || err.Error() != tc.want {
			t.Errorf("%s %s: got %v, want %s", tc.name, tc.layer, err, tc.want)
		}
	}
}

// TestRealBoundariesInOtherFormats: real boundaries converted by GDAL, projected too, are the same fields as those in
// the GeoJSON they came from.
func TestRealBoundariesInOtherFormats(t *testing.T) {
	const name = "fields-story-ia/fields_EPSG4326.geojson"
	ogr2ogr, err := exec.LookPath("ogr2ogr")
	if err != nil {
		t.Skip("ogr2ogr is not installed; it comes with gdal-bin")
	}
	if _, err := os.Stat(data + "/" + name); err != nil {
		t.Skipf("real data are not there: %v", err)
	}
	want, err := Read(t.Context(), []Source{{Name: name, Files: os.DirFS(data), Path: name}}, Options{}, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		file string
		args []string
		tol  float64 // degrees
	}{
		{"a.gpkg", nil, 0},
		{"utm.gpkg", []string{"-t_srs", "EPSG:26915"}, 1e-8},
		{"albers.fgb", []string{"-t_srs", "EPSG:5070"}, 1e-8},
		{"a.kml", []string{"-f", "LIBKML"}, 1e-12},
	} {
		dir := t.TempDir()
		if out, err := exec.Command(ogr2ogr, append(tc.args, filepath.Join(dir, tc.file), data+"/"+name)...).CombinedOutput(); err != nil {
			t.Fatalf("%s: %v %s", tc.file, err, out)
		}
		faults := &diag.List{}
		got, err := Read(t.Context(), []Source{{Name: tc.file, Files: os.DirFS(dir), Path: tc.file}}, Options{}, faults)
		if err != nil || faults.Faults() > 0 || len(got) != len(want) {
			t.Errorf("%s: %d fields, %v, %v", tc.file, len(got), err, faults)
			continue
		}
		if !reflect.DeepEqual(boxes(want, tc.tol), boxes(got, tc.tol)) {
			t.Errorf("%s: the fields lie elsewhere:\n%v\nwant\n%v", tc.file, boxes(got, tc.tol), boxes(want, tc.tol))
		}
	}
}

// boxes returns the extents of fields, in an order of their own, rounded so that differences of tol vanish.
func boxes(fields []Field, tol float64) map[string]int {
	out := map[string]int{}
	for _, f := range fields {
		b := f.Shape.Bound()
		if tol > 0 {
			out[fmt.Sprintf("%.6f %.6f %.6f %.6f", b.Min[0], b.Min[1], b.Max[0], b.Max[1])]++
			continue
		}
		out[fmt.Sprint(b)]++
	}
	return out
}
