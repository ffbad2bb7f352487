package geopackage

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/geojson"
	"rootworthy/internal/secondopinion"
)

// TestIndependentChecker: the checker holds no code of ours; it reads the file with SQLite and GDAL.
func TestIndependentChecker(t *testing.T) {
	check := secondopinion.Checker(t, secondopinion.GDAL)
	file := filepath.Join(t.TempDir(), "f.gpkg")
	if err := os.WriteFile(file, made(t, zones(), samples()), 0o644); err != nil {
		t.Fatal(err)
	}
	if said := check("geopackage", file, "--within=-87,37,-85,39", "--expect-features", "5"); strings.Contains(said, "WARN") {
		t.Error(said)
	}
}

// TestSecondReader: GDAL reads what we wrote, and says the same of every feature as our reader.
func TestSecondReader(t *testing.T) {
	ogr2ogr := secondopinion.Tool(t, "ogr2ogr", "gdal-bin")
	dir := t.TempDir()
	file := filepath.Join(dir, "f.gpkg")
	b := made(t, zones())
	if err := os.WriteFile(file, b, 0o644); err != nil {
		t.Fatal(err)
	}
	text := ogr2ogr("-f", "GeoJSON", "/vsistdout/", file, "zones", "-lco", "COORDINATE_PRECISION=15")
	other, err := geojson.Read("other", strings.NewReader(text), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	db, _ := open(t, b)
	_, ours := readLayer(t, db, "zones")
	for i, f := range ours {
		o := other.Features[i]
		if !reflect.DeepEqual(f.Geometry, o.Geometry) || len(f.Properties) != len(o.Properties) {
			t.Errorf("feature %d: ours %v, other %v", i, f, o)
			continue
		}
		for k, p := range f.Properties {
			if q := o.Properties[k]; p.Name != q.Name || !sameValue(p.Value, q.Value) {
				t.Errorf("feature %d: %s = %s, other %s = %s", i, p.Name, p.Value, q.Name, q.Value)
			}
		}
	}
}

// sameValue compares JSON values; GDAL writes dates as YYYY/MM/DD in GeoJSON.
func sameValue(a, b json.RawMessage) bool {
	var x, y any
	if json.Unmarshal(a, &x) != nil || json.Unmarshal(b, &y) != nil {
		return false
	}
	if s, ok := y.(string); ok {
		y = strings.ReplaceAll(s, "/", "-")
	}
	return reflect.DeepEqual(x, y)
}

// drawn is a file for GDAL to convert.
const drawn = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"name":"Été","n":7,"r":6.25,"yes":true,"day":"2024-09-15"},"geometry":{"type":"MultiPolygon","coordinates":[[[[-86,38],[-85.99,38],[-85.99,38.01],[-86,38]]],[[[-85.5,38],[-85.4,38],[-85.4,38.1],[-85.5,38]]]]}},
{"type":"Feature","properties":{"name":null,"n":null,"r":null,"yes":null,"day":null},"geometry":{"type":"MultiPolygon","coordinates":[[[[-86,39],[-85.99,39],[-85.99,39.01],[-86,39]]]]}}]}`

// TestSecondWriter: what GDAL writes in each of its dialects is read with the same shapes and values.
func TestSecondWriter(t *testing.T) {
	ogr2ogr := secondopinion.Tool(t, "ogr2ogr", "gdal-bin")
	want, err := geojson.Read("drawn", strings.NewReader(drawn), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	for name, args := range map[string][]string{
		"GeoPackage":            {"-f", "GPKG"},
		"GeoPackage 1.0":        {"-f", "GPKG", "-dsco", "VERSION=1.0"},
		"GeoPackage 1.3":        {"-f", "GPKG", "-dsco", "VERSION=1.3"},
		"with heights":          {"-f", "GPKG", "-dim", "XYZ"},
		"with measures":         {"-f", "GPKG", "-dim", "XYM"},
		"with both":             {"-f", "GPKG", "-dim", "XYZM"},
		"projected":             {"-f", "GPKG", "-a_srs", "EPSG:26915"},
		"SQLite":                {"-f", "SQLite"},
		"SQLite, text":          {"-f", "SQLite", "-lco", "FORMAT=WKB"},
		"SpatiaLite":            {"-f", "SQLite", "-dsco", "SPATIALITE=YES", "-dsco", "INIT_WITH_EPSG=NO"},
		"SpatiaLite, heights":   {"-f", "SQLite", "-dsco", "SPATIALITE=YES", "-dsco", "INIT_WITH_EPSG=NO", "-dim", "XYZ"},
		"UTF-16, another page":  {"-f", "GPKG", "--config", "OGR_SQLITE_PRAGMA", "page_size=1024,encoding=\"UTF-16\""},
		"write-ahead log":       {"-f", "GPKG", "--config", "OGR_SQLITE_JOURNAL", "WAL"},
		"own names for columns": {"-f", "GPKG", "-lco", "GEOMETRY_NAME=the geom", "-lco", "FID=id"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			from, to := filepath.Join(dir, "from.geojson"), filepath.Join(dir, "to.db")
			if err := os.WriteFile(from, []byte(drawn), 0o644); err != nil {
				t.Fatal(err)
			}
			ogr2ogr(append(args, to, from, "-nln", "Soil Mu_A", "-nlt", "PROMOTE_TO_MULTI", "--config", "OGR_SQLITE_SYNCHRONOUS", "OFF")...)
			b, err := os.ReadFile(to)
			if err != nil {
				t.Fatal(err)
			}
			db, faults := open(t, b)
			l, got := readLayer(t, db, "")
			if len(got) != len(want.Features) || faults.Faults() > 0 {
				t.Fatalf("%d features, %v", len(got), faults)
			}
			for i, f := range got {
				if !reflect.DeepEqual(f.Geometry, want.Features[i].Geometry) {
					t.Errorf("feature %d: %v, drawn %v", i, f.Geometry, want.Features[i].Geometry)
				}
				for _, p := range want.Features[i].Properties {
					given := feature.Feature{Properties: []feature.Property{feature.Property(p)}}
					if text := f.Text(p.Name); text != given.Text(p.Name) && !(p.Name == "yes" && text == "1") {
						t.Errorf("feature %d: %s = %q, drawn %s", i, p.Name, text, p.Value)
					}
				}
			}
			wantCRS := "EPSG:4326"
			if name == "projected" {
				wantCRS = "EPSG:26915"
			}
			if crs, ok, err := l.CRS(); err != nil || !ok || crs.String() != wantCRS {
				t.Errorf("system %v %v %v", crs, ok, err)
			}
		})
	}
}
