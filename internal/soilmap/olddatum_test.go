package soilmap_test

import (
	"bytes"
	"context"
	"database/sql"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/flatgeobuf"
	"rootworthy/internal/geo/shapefile"
	"rootworthy/internal/soilmap"
	"rootworthy/raster"
	"rootworthy/soils/ssurgo"
)

// nad27Degrees is what a .prj says of degrees on NAD27, as PROJ 9.1.1 writes it (projinfo EPSG:4267 -o WKT1_ESRI).
const nad27Degrees = `GEOGCS["GCS_North_American_1927",DATUM["D_North_American_1927",SPHEROID["Clarke_1866",6378206.4,294.978698213898]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]`

// onNAD27 are soil maps of one polygon in every form, all of which say that they stand on NAD27, by code or by text.
func onNAD27(t *testing.T) map[string]soilmap.Source {
	t.Helper()
	x := &export{polygons: []ssurgo.Polygon{{Area: "ZZ001", Unit: "1", Shape: orb.MultiPolygon{{{{-91, 46}, {-90.9, 46}, {-90.9, 46.1}, {-91, 46}}}}}}}
	in := func(name string, files fstest.MapFS) soilmap.Source {
		return soilmap.Source{Name: name, Files: files, Path: name}
	}
	out := map[string]soilmap.Source{}
	json := strings.Replace(string(x.geoJSON()), `{"features"`, `{"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::4267"}},"features"`, 1)
	out["GeoJSON"] = in("map.geojson", fstest.MapFS{"map.geojson": {Data: []byte(json)}})

	enc, err := shapefile.NewEncoder([]shapefile.Column{{Name: "MUKEY", Type: 'C', Width: 8}}, func(yield func(orb.MultiPolygon, []any) bool) {
		yield(x.polygons[0].Shape, []any{"1"})
	})
	if err != nil {
		t.Fatal(err)
	}
	enc.Projection = nad27Degrees
	files := fstest.MapFS{}
	for ext, fill := range enc.Files() {
		var b bytes.Buffer
		if err := fill(&b); err != nil {
			t.Fatal(err)
		}
		files["map"+ext] = &fstest.MapFile{Data: b.Bytes()}
	}
	out["shapefile"] = in("map.shp", files)

	var b bytes.Buffer
	if err := flatgeobuf.Write(&b, flatgeobuf.Content{Name: "map", Columns: polygonColumns, Rows: x.rows()}); err != nil {
		t.Fatal(err)
	}
	// Ours are always on WGS 84: its code, 4326, becomes 4267 in the two bytes where it stands in the head.
	old := bytes.Replace(b.Bytes(), []byte{0xe6, 0x10, 0, 0}, []byte{0xab, 0x10, 0, 0}, 1)
	out["FlatGeobuf"] = in("map.fgb", fstest.MapFS{"map.fgb": {Data: old}})

	path := filepath.Join(t.TempDir(), "map.gpkg")
	x.writeGeoPackage(t, path, "mupolygon")
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(`UPDATE gpkg_spatial_ref_sys SET organization_coordsys_id = 4267, definition = ? WHERE srs_id = 4326`, nad27Degrees); err != nil {
		t.Fatal(err)
	}
	out["GeoPackage"] = soilmap.Source{Name: "map.gpkg", Files: os.DirFS(filepath.Dir(path)), Path: "map.gpkg"}

	f := raster.Frame{Cols: 6, Rows: 5, West: -91, North: 46, DX: 0.002, DY: 0.002, CRS: crs(t, 4267)}
	cells := writeGrid(t, f, int16(-32768), func(int, int) int16 { return 52 })
	out["keys"] = in("keys.tif", fstest.MapFS{"keys.tif": {Data: cells}})
	out["stack"] = in("phh2o_0-5cm_mean.tif", fstest.MapFS{"phh2o_0-5cm_mean.tif": {Data: cells}})
	return out
}

// Soil lines ten metres beside where they were drawn are no soil lines: each form of a soil map is refused on NAD27, in one
// and the same sentence, with the name of the file.
func TestSoilLinesOnNAD27AreRefused(t *testing.T) {
	maps27 := onNAD27(t)
	for _, name := range slices.Sorted(maps.Keys(maps27)) {
		source := maps27[name]
		var faults diag.List
		s, err := soilmap.Open(context.Background(), []soilmap.Source{source}, soilmap.Options{}, &faults)
		if err == nil { // texts and databases tell their system when they are read
			err = s.Polygons(context.Background(), func(string, string, orb.MultiPolygon) error { return nil })
			s.Close()
		}
		if err == nil {
			t.Errorf("%s: taken\n%s", name, &faults)
			continue
		}
		for _, say := range []string{source.Name, "stands on NAD27, which this program brings to WGS 84 only to about 10 m (EPSG:1173): too far off for lines that cut ground; convert the file to EPSG:4326"} {
			if !strings.Contains(err.Error(), say) {
				t.Errorf("%s: %q does not say %q", name, err, say)
			}
		}
		if strings.Count(err.Error(), source.Name) != 1 {
			t.Errorf("%s: the file is named more than once: %q", name, err)
		}
	}
}
