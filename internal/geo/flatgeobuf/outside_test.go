package flatgeobuf

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"sort"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/geojson"
	"rootworthy/internal/secondopinion"
)

// TestIndependentChecker: the checker holds no code of ours; it reads the file with the npm package flatgeobuf and GDAL,
// and compares searches through the index with a look at every feature.
func TestIndependentChecker(t *testing.T) {
	check := secondopinion.Checker(t, secondopinion.Node)
	for name, tc := range map[string]struct {
		c      Content
		within string
		n      string
	}{"zones": {zones(), "-87,37,-85,39", "3"}, "grid": {grid(30), "-91,37,-89,39", "900"}, "one": {grid(1), "-91,37,-89,39", "1"}} {
		file := filepath.Join(t.TempDir(), "f.fgb")
		if err := os.WriteFile(file, made(t, tc.c), 0o644); err != nil {
			t.Fatal(err)
		}
		t.Log(name)
		check("flatgeobuf", file, "--strict", "--within="+tc.within, "--expect-features", tc.n)
	}
}

// TestSecondReader: GDAL reads what we wrote, a row without a shape too, and says the same of every feature.
func TestSecondReader(t *testing.T) {
	ogr2ogr := secondopinion.Tool(t, "ogr2ogr", "gdal-bin")
	file := filepath.Join(t.TempDir(), "f.fgb")
	c := zones()
	c.Rows = func(yield func(orb.MultiPolygon, []any) bool) {
		for s, v := range zones().Rows {
			if !yield(s, v) {
				return
			}
		}
		yield(nil, []any{"no shape", nil, nil, nil, nil})
	}
	b := made(t, c)
	if err := os.WriteFile(file, b, 0o644); err != nil {
		t.Fatal(err)
	}
	text := ogr2ogr("-f", "GeoJSON", "/vsistdout/", file, "-lco", "COORDINATE_PRECISION=15", "-oo", "VERIFY_BUFFERS=YES")
	other, err := geojson.Read("other", strings.NewReader(text), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	_, ours, _, err := readAll(b)
	if err != nil {
		t.Fatal(err)
	}
	for i := range ours { // GDAL leaves missing values out
		ours[i].Properties = slices.DeleteFunc(ours[i].Properties, func(p feature.Property) bool { return string(p.Value) == "null" })
	}
	if want := show(fromGeoJSON(other)); !reflect.DeepEqual(show(ours), want) {
		t.Errorf("ours\n%s\nother\n%s", strings.Join(show(ours), "\n"), strings.Join(want, "\n"))
	}
}

func fromGeoJSON(c geojson.Collection) (out []feature.Feature) {
	for _, f := range c.Features {
		g := feature.Feature{Geometry: f.Geometry}
		for _, p := range f.Properties {
			v := string(p.Value)
			if strings.Contains(v, ".") {
				v = strings.TrimSuffix(v, ".0") // GDAL writes whole numbers of a real column so
			}
			g.Properties = append(g.Properties, feature.Property{Name: p.Name, Value: []byte(v)})
		}
		out = append(out, g)
	}
	return out
}

// drawn is a file for GDAL to convert.
const drawn = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"name":"Été","n":7,"big":12345678901,"r":6.25,"yes":true},"geometry":{"type":"MultiPolygon","coordinates":[[[[-86,38],[-85.99,38],[-85.99,38.01],[-86,38]]],[[[-85.5,38],[-85.4,38],[-85.4,38.1],[-85.5,38]]]]}},
{"type":"Feature","properties":{"name":null,"n":null,"big":null,"r":null,"yes":null},"geometry":{"type":"Polygon","coordinates":[[[-86,39],[-85.97,39],[-85.97,39.03],[-86,39]],[[-85.98,39.01],[-85.975,39.01],[-85.975,39.011],[-85.98,39.01]]]}}]}`

// TestSecondWriter: what GDAL writes, with and without an index, of one kind or several, is read the same.
func TestSecondWriter(t *testing.T) {
	ogr2ogr := secondopinion.Tool(t, "ogr2ogr", "gdal-bin")
	want, err := geojson.Read("drawn", strings.NewReader(drawn), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	texts := show(fromGeoJSON(want))
	sort.Strings(texts)
	for name, args := range map[string][]string{
		"multi":      {"-nlt", "PROMOTE_TO_MULTI"},
		"mixed":      {"-nlt", "GEOMETRY"},
		"no index":   {"-nlt", "PROMOTE_TO_MULTI", "-lco", "SPATIAL_INDEX=NO"},
		"heights":    {"-nlt", "PROMOTE_TO_MULTI", "-dim", "XYZ"},
		"measures":   {"-nlt", "PROMOTE_TO_MULTI", "-dim", "XYM"},
		"projected":  {"-nlt", "PROMOTE_TO_MULTI", "-a_srs", "EPSG:26915"},
		"own system": {"-nlt", "PROMOTE_TO_MULTI", "-a_srs", "+proj=utm +zone=15 +datum=NAD83"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			from, to := filepath.Join(dir, "from.geojson"), filepath.Join(dir, "to.fgb")
			if err := os.WriteFile(from, []byte(drawn), 0o644); err != nil {
				t.Fatal(err)
			}
			ogr2ogr(append(args, "-f", "FlatGeobuf", to, from)...)
			b, err := os.ReadFile(to)
			if err != nil {
				t.Fatal(err)
			}
			l, got, faults, err := readAll(b)
			if err != nil || faults.Faults() > 0 || !reflect.DeepEqual(show(got), texts) {
				t.Errorf("%v %v\n%s\nwant\n%s", err, faults, strings.Join(show(got), "\n"), strings.Join(texts, "\n"))
			}
			wantCRS := map[string]string{"projected": "EPSG:26915", "own system": "EPSG:26915"}[name]
			if wantCRS == "" {
				wantCRS = "EPSG:4326"
			}
			if crs, ok, err := l.CRS(); err != nil || !ok || crs.String() != wantCRS && name != "own system" {
				t.Errorf("system %v %v %v", crs, ok, err)
			}
			if dims := name == "heights" || name == "measures"; (faults.Notices() > 0) != dims {
				t.Errorf("notices: %v", faults)
			}
		})
	}
}
