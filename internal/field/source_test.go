package field

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"encoding/binary"
	"errors"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/shapefile"
)

func mapOf(files []string) fstest.MapFS {
	fsys := fstest.MapFS{}
	for i := 0; i < len(files); i += 2 {
		fsys[files[i]] = &fstest.MapFile{Data: []byte(files[i+1])}
	}
	return fsys
}

func zipOf(t *testing.T, files []string) string {
	t.Helper()
	inner := slices.Clone(files)
	for i := 0; i < len(inner); i += 2 {
		inner[i] = "inner/" + inner[i]
	}
	return packed(t, inner...)
}

// packed is a zip of files: path, content, path, content …
func packed(t *testing.T, files ...string) string {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		w, err := z.Create(files[i])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(files[i+1])); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// taskData is a field as a controller keeps it (ISO 11783-10, elements PFD, PLN, LSG, PNT).
const taskData = `<ISO11783_TaskData VersionMajor="3" VersionMinor="3"><PFD A="PFD1" C="A1"><PLN A="1"><LSG A="1">` +
	`<PNT A="2" C="33" D="-91"/><PNT A="2" C="33" D="-90.99"/><PNT A="2" C="33.01" D="-90.99"/></LSG></PLN></PFD></ISO11783_TaskData>`

// TestKindsOfFile: files are told apart by their first bytes, whatever their names; what is none of them gets one
// sentence.
func TestKindsOfFile(t *testing.T) {
	shape := shapeFiles(t, orb.MultiPolygon{{{{-91, 33}, {-90.99, 33}, {-90.99, 33.01}, {-91, 33}}}}, shapefile.WGS84)
	text := collection(feature(`"A1"`, "", square(-91, 33)))
	for _, tc := range []struct {
		name, path string
		layer      string
		files      fs.FS
		want       string // beginning of the error; none when empty
	}{
		{"shapefile", "f.shp", "", mapOf(shape), ""},
		{"GeoJSON named .txt", "f.txt", "", mapOf([]string{"f.txt", text}), ""},
		{"zip named .dat", "f.dat", "", mapOf([]string{"f.dat", zipOf(t, shape)}), ""},
		{"zip of GeoJSON", "f.zip", "", mapOf([]string{"f.zip", zipOf(t, []string{"a.geojson", text})}), ""},
		{"zip of two GeoJSON, one named", "f.zip", "b.geojson", mapOf([]string{"f.zip", zipOf(t, []string{"a.geojson", "{", "b.geojson", text})}), ""},
		{"zip of two GeoJSON", "f.zip", "", mapOf([]string{"f.zip", zipOf(t, []string{"a.geojson", text, "b.kml", ""})}), "named: holds 2 files of boundaries (inner/a.geojson, inner/b.kml); name one of them with --layer"},
		{"zip of two GeoJSON, another named", "f.zip", "c", mapOf([]string{"f.zip", zipOf(t, []string{"a.geojson", text, "b.kml", ""})}), `named: holds no "c"; it holds inner/a.geojson, inner/b.kml`},
		{"zip of nothing", "f.zip", "", mapOf([]string{"f.zip", zipOf(t, []string{"readme.txt", "x"})}), "named: holds no .shp"},
		{"another program's table", "f.tab", "", mapOf([]string{"f.tab", "!table\n!version 300\n"}), "named: is no file of boundaries that can be read; give GeoJSON, a shapefile"},
		{"spreadsheet", "f.xlsx", "", mapOf([]string{"f.xlsx", zipOf(t, []string{"xl/workbook.xml", "<x/>"})}), "named: is a spreadsheet"},
		{"missing", "f.shp", "", mapOf(nil), "named: file does not exist"},
		{"empty", "f.geojson", "", mapOf([]string{"f.geojson", ""}), "named: is empty"},
		{"empty .shp", "f.shp", "", mapOf([]string{"f.shp", ""}), "named: is empty"},
		{"folder", "f", "", fstest.MapFS{"f/a.shp": {}}, "named: is a folder; name the file of boundaries in it"},
		{"folder of task data", "E/TASKDATA", "", fstest.MapFS{"E/TASKDATA/TaskData.xml": {Data: []byte(taskData)}, "E/TASKDATA/GRD00001.bin": {}}, ""},
		{"card with task data", "E", "", fstest.MapFS{"E/TASKDATA/TASKDATA.XML": {Data: []byte(taskData)}, "E/photo.jpg": {}}, ""},
		{"part of a shapefile", "f.dbf", "", mapOf(shape), "named: is only a part of a shapefile; name its .shp"},
		{"database", "f.gpkg", "", mapOf([]string{"f.gpkg", "SQLite format 3\x00"}), "named: is cut off: it ends within its header; copy it again"},
		{"web page", "f.geojson", "", mapOf([]string{"f.geojson", "<!DOCTYPE html>"}), "named: is no GeoJSON but XML or a web page"},
		{"no features", "f.geojson", "", mapOf([]string{"f.geojson", collection()}), "named: holds no polygons"},
		{"half a zip", "f.zip", "", mapOf([]string{"f.zip", zipOf(t, shape)[:100]}), "named: is no zip, or is cut off"},
		{"deep", "f.geojson", "", mapOf([]string{"f.geojson", `{"type":"Polygon","coordinates":` + strings.Repeat("[", 100_000)}), "named:1: values are nested more than 500 deep; it cannot be read as GeoJSON"},
	} {
		faults := &diag.List{}
		fields, err := Read(t.Context(), []Source{{Name: "named", Files: tc.files, Path: tc.path, Layer: tc.layer}}, Options{}, faults)
		switch {
		case tc.want == "" && (err != nil || len(fields) != 1 || fields[0].ID != "A1" || len(faults.Kept()) > 0):
			t.Errorf("%s: %v, %v, %v", tc.name, fields, err, faults)
		case tc.want != "" && (err == nil || !strings.HasPrefix(err.Error(), tc.want) || strings.Contains(err.Error(), "\n")):
			t.Errorf("%s: got %v, want %s", tc.name, err, tc.want)
		}
	}
}

// All of them at once, though a good file stands among them.
func TestAllBadFilesAreNamed(t *testing.T) {
	_, _, err := read(t, Options{}, "a.geojson", "", "b.geojson", "<", "c.geojson", collection(feature("1", "", square(-91, 33))))
	if want := "a.geojson: is empty\nb.geojson: is no GeoJSON but XML or a web page"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// bomb returns a zip with one .shp of which its entry says that it unfolds to the given size; in truth it is 2 MB.
func bomb(t *testing.T, says uint64) string {
	t.Helper()
	var packed, out bytes.Buffer
	d, err := flate.NewWriter(&packed, flate.BestCompression)
	if err == nil {
		_, err = d.Write(append(nullShapes(), make([]byte, 2<<20)...))
	}
	if err == nil {
		err = d.Close()
	}
	z := zip.NewWriter(&out)
	w, err2 := z.CreateRaw(&zip.FileHeader{Name: "f.shp", Method: zip.Deflate, CompressedSize64: uint64(packed.Len()), UncompressedSize64: says})
	if err2 == nil {
		_, err2 = w.Write(packed.Bytes())
	}
	if err := errors.Join(err, err2, z.Close()); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// nullShapes returns a .shp of 20 records without shapes.
func nullShapes() []byte {
	b := make([]byte, 100)
	binary.BigEndian.PutUint32(b, 9994)
	binary.LittleEndian.PutUint32(b[32:], 5)
	for i := range 20 {
		b = binary.BigEndian.AppendUint32(b, uint32(i+1))
		b = binary.BigEndian.AppendUint32(b, 2)
		b = binary.LittleEndian.AppendUint32(b, 0)
	}
	return b
}

// TestBomb: zips that unfold to more than they may, or say, and lists of nothings.
func TestBomb(t *testing.T) {
	for name, tc := range map[string][2]string{
		"1 GB":           {bomb(t, 1<<30), "f/f.shp: would unfold from "},
		"more than said": {bomb(t, 1000), "f/f.shp at byte "},
		"nothings":       {`{"type":"FeatureCollection","features":[0` + strings.Repeat(",0", maxTroubled) + "]}", "f: more than 100000 features have no polygon; this is no file of boundaries"},
	} {
		_, err := Read(t.Context(), []Source{{Name: "f", Files: mapOf([]string{"f", tc[0]}), Path: "f"}}, Options{}, &diag.List{})
		if err == nil || !strings.HasPrefix(err.Error(), tc[1]) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: got %v, want %s", name, err, tc[1])
		}
	}
}

// TestDamagedRecordStaysInTheList: the record's attributes name the field whose shape is lost.
func TestDamagedRecordStaysInTheList(t *testing.T) {
	shape := shapeFiles(t, orb.MultiPolygon{{{{-91, 33}, {-90.99, 33}, {-90.99, 33.01}, {-91, 33}}}}, shapefile.WGS84)
	b := []byte(shape[1])
	b[108+40] = 0xff // more points than there are
	shape[1] = string(b)
	faults := &diag.List{}
	fields, err := Read(t.Context(), []Source{{Name: "f.shp", Files: mapOf(shape), Path: "f.shp"}}, Options{}, faults)
	if err != nil || len(fields) != 1 || fields[0].ID != "A1" || !strings.HasPrefix(fields[0].Trouble, "its shape is damaged: 1 parts with 255 points") || faults.Faults() != 1 {
		t.Errorf("got %v, %v, %v", fields, err, faults)
	}
}
