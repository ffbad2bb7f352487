package soilmap_test

import (
	"context"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	"rootworthy/internal/soilmap"
)

// whole returns the area of interest IA073 as if it were the whole survey area, in an edition of its own: version and day
// of the catalogue, and a text put in the place of another in one table.
func whole(t *testing.T, version, day, old, new string) fstest.MapFS {
	t.Helper()
	dir := shared(t, "ssurgo-ia073-aoi")
	out := fstest.MapFS{}
	for _, part := range []string{"tabular", "spatial"} {
		entries, err := os.ReadDir(filepath.Join(dir, part))
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			b, err := os.ReadFile(filepath.Join(dir, part, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			s := string(b)
			switch e.Name() {
			case "sacatlog.txt":
				s = strings.Replace(s, "|26|06/10/2020 ", "|"+version+"|"+day+" ", 1)
				if s == string(b) && version != "26" {
					t.Fatal("the catalogue does not read as expected")
				}
			case "mapunit.txt":
				s = strings.ReplaceAll(s, old, new)
			}
			out[part+"/"+strings.Replace(e.Name(), "_aoi.", "_ia073.", 1)] = &fstest.MapFile{Data: []byte(s)}
		}
	}
	return out
}

// Of a survey area given twice the newer edition is taken, tables and map, in whichever order they stand.
func TestNewestEditionWins(t *testing.T) {
	fields := fieldsOf(t, filepath.Join(shared(t, "fields-ia073-invented"), "fields.geojson"))
	old := soilmap.Source{Name: "old", Files: whole(t, "9", "06/10/2020", "Harps", "Old Harps"), Path: "."}
	for name, c := range map[string]struct{ version, day string }{"later day": {"9", "09/01/2024"}, "same day, version 10": {"10", "06/10/2020"}} {
		newer := soilmap.Source{Name: "newer", Files: whole(t, c.version, c.day, "Harps", "New Harps"), Path: "."}
		want, _ := screen(t, fields, []soilmap.Source{newer}, soilmap.Options{}, job.Options{})
		for _, order := range [][]soilmap.Source{{old, newer}, {newer, old}} {
			got, faults := screen(t, fields, order, soilmap.Options{}, job.Options{})
			same(t, got, want)
			if !strings.Contains(faults.String(), "survey area IA073 stands here (version 9 of 2020-06-10)") || faults.Faults() != 0 {
				t.Errorf("%s: the older edition was not told of:\n%s", name, faults)
			}
			if len(got.Provenance.Surveys) != 1 || got.Provenance.Surveys[0].Version != c.version {
				t.Errorf("%s: made from %+v", name, got.Provenance.Surveys)
			}
		}
	}
}

// Parts of one survey area lie beside each other: none is left out, and ground that both have counts once.
func TestPartsOfOneArea(t *testing.T) {
	fields := fieldsOf(t, filepath.Join(shared(t, "fields-ia073-invented"), "fields.geojson"))
	dir := shared(t, "ssurgo-ia073-aoi")
	x := readExport(t, dir)
	want, _ := screen(t, fields, folder(dir), soilmap.Options{}, job.Options{})
	half := len(x.polygons) / 2
	a, b := *x, *x
	a.polygons, b.polygons = x.polygons[:half+2], x.polygons[half:] // two polygons stand in both
	files := fstest.MapFS{"west.geojson": {Data: a.geoJSON()}, "east.geojson": {Data: b.geoJSON()}}
	sources := []soilmap.Source{{Name: "west.geojson", Files: files, Path: "west.geojson"}, {Name: "east.geojson", Files: files, Path: "east.geojson"}, asTables(folder(dir)[0])}
	got, faults := screen(t, fields, sources, soilmap.Options{}, job.Options{})
	same(t, got, want)
	if !strings.Contains(faults.String(), "2 polygons stand in two of the surveys given") {
		t.Errorf("polygons that stand twice were not told:\n%s", faults)
	}
}

// Fields across a county line: two survey areas make one.
func TestFieldsAcrossACountyLine(t *testing.T) {
	if racing {
		t.Skip("a whole county in a database takes minutes under the race detector")
	}
	fields := fieldsOf(t, filepath.Join(shared(t, "fields-ar017-invented"), "fields.geojson"))
	dir := shared(t, "ssurgo-ar017")
	x := readExport(t, dir)
	want, _ := screen(t, fields, folder(dir), soilmap.Options{}, job.Options{})
	west, east := *x, *x
	west.polygons, east.polygons = nil, nil
	east.tables = maps.Clone(x.tables)
	for _, table := range []string{"legend", "sacatalog"} {
		east.tables[table] = nil
		for _, r := range x.tables[table] {
			r = slices.Clone(r)
			for i := range r {
				r[i] = strings.ReplaceAll(r[i], "AR017", "AR999")
			}
			east.tables[table] = append(east.tables[table], r)
		}
	}
	for _, p := range x.polygons {
		if p.Shape.Bound().Center().Lon() < -91.25 {
			west.polygons = append(west.polygons, p)
			continue
		}
		p.Area = "AR999"
		east.polygons = append(east.polygons, p)
	}
	counties := []soilmap.Source{}
	for name, part := range map[string]*export{"west": &west, "east": &east} {
		path := filepath.Join(t.TempDir(), name+".gpkg")
		part.writeGeoPackage(t, path, "mupolygon")
		part.addTables(t, path, strings.ToLower, asText)
		counties = append(counties, file(path))
	}
	if len(west.polygons) == 0 || len(east.polygons) == 0 {
		t.Fatal("the county was not parted")
	}
	got, _ := screen(t, fields, counties, soilmap.Options{}, job.Options{})
	a, b := zoneAreas(got), zoneAreas(want)
	if len(a) != len(b) {
		t.Fatalf("%d zones, want %d", len(a), len(b))
	}
	for k := range maps.Keys(b) {
		if a[k] != b[k] {
			t.Errorf("%v: %v ha, want %v", k, a[k], b[k])
		}
	}
}

// What is no survey is refused in a sentence that names it.
func TestRefusals(t *testing.T) {
	files := fstest.MapFS{"empty": {}, "notes.txt": {Data: []byte("hello")}, "run/run.json": {Data: []byte("{}")}, "run/zones.geojson": {Data: []byte("{}")},
		"db.gpkg": {Data: append([]byte("SQLite format 3\x00"), make([]byte, 200)...)}, "cut.tif": {Data: []byte("II*\x00\x08\x00\x00\x00")},
		"page.html": {Data: []byte("<html><body>maintenance</body></html>")}}
	for path, say := range map[string]string{"empty": "not a soil survey", "notes.txt": "not a soil survey", "missing": "missing: file does not exist", "db.gpkg": "db.gpkg", "cut.tif": "cut.tif", "page.html": "page.html"} {
		_, err := soilmap.Open(context.Background(), []soilmap.Source{{Name: path, Files: files, Path: path}}, soilmap.Options{}, &diag.List{})
		if err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%s: %v, want %q", path, err, say)
		}
	}
}

// The folder spatial of an export holds lines, points and the outline of the area beside the map units; with the folder of the tables it is
// the export again.
func TestSpatialAndTabularApart(t *testing.T) {
	fields := fieldsOf(t, filepath.Join(shared(t, "fields-ar017-invented"), "fields.geojson"))
	dir := shared(t, "ssurgo-ar017")
	open := func(folder string, tables bool) soilmap.Source {
		return soilmap.Source{Name: folder, Files: os.DirFS(filepath.Join(dir, folder)), Path: ".", Tables: tables}
	}
	want, _ := screen(t, fields, []soilmap.Source{{Name: "AR017", Files: os.DirFS(dir), Path: "."}}, soilmap.Options{}, job.Options{})
	got, faults := screen(t, fields, []soilmap.Source{open("spatial", false), open("tabular", true)}, soilmap.Options{}, job.Options{})
	same(t, got, want)
	if strings.Contains(faults.String(), "lines") {
		t.Error(faults)
	}
	// Alone, a folder of lines is told for what it is.
	_, err := soilmap.Open(context.Background(), []soilmap.Source{{Name: "l", Files: only(t, dir, "soilmu_l_ar017"), Path: "."}}, soilmap.Options{}, &diag.List{})
	if err == nil || !strings.Contains(err.Error(), "holds lines, not polygons") {
		t.Errorf("got %v", err)
	}
}

// only returns the shapefile of one name in the folder spatial.
func only(t *testing.T, dir, name string) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	for _, ending := range []string{".shp", ".dbf", ".prj"} {
		b, err := os.ReadFile(filepath.Join(dir, "spatial", name+ending))
		if err != nil {
			t.Fatal(err)
		}
		out[name+ending] = &fstest.MapFile{Data: b}
	}
	return out
}

// A general map beside detailed surveys is named, and does not stand for them.
func TestKindOfSurveysTogether(t *testing.T) {
	s, err := soilmap.Open(context.Background(), []soilmap.Source{
		{Name: "ut", Files: os.DirFS(shared(t, "statsgo2-ut-tabular")), Path: "."}, {Name: "ia", Files: os.DirFS(shared(t, "ssurgo-ia073-aoi")), Path: "."},
	}, soilmap.Options{}, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	sum, err := s.Check(context.Background())
	if err != nil || sum.Kind != "soil survey areas, and the general soil map" {
		t.Errorf("kind %q, %v", sum.Kind, err)
	}
}
