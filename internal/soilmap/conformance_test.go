package soilmap_test

import (
	"archive/zip"
	"bytes"
	"context"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"net/http/httptest"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/geo/flatgeobuf"
	"rootworthy/internal/job"
	"rootworthy/internal/soildata"
	"rootworthy/internal/soildata/standin"
	"rootworthy/internal/soilmap"
	"rootworthy/suitability"
)

// shared returns a folder of real data beside the checkout, or skips the test.
func shared(t testing.TB, name string) string {
	t.Helper()
	dir := filepath.Join("../../../shared/data", name)
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("%s is not there: it holds real surveys for tests", dir)
	}
	return dir
}

// fieldsOf reads boundaries.
func fieldsOf(t testing.TB, file string) []field.Field {
	t.Helper()
	var faults diag.List
	fields, err := field.Read(context.Background(), []field.Source{{Name: file, Files: os.DirFS(filepath.Dir(file)), Path: filepath.Base(file)}}, field.Options{}, &faults)
	if err != nil || len(fields) == 0 {
		t.Fatal(err, &faults)
	}
	return fields
}

// screen opens a survey and screens fields on it.
func screen(t testing.TB, fields []field.Field, sources []soilmap.Source, opt soilmap.Options, jobOpt job.Options) (*suitability.Result, *diag.List) {
	t.Helper()
	faults := &diag.List{}
	for _, f := range fields {
		if len(f.Shape) > 0 {
			opt.Around = append(opt.Around, f.Shape.Bound().Pad(0.001))
		}
	}
	s, err := soilmap.Open(context.Background(), sources, opt, faults)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	r, err := job.Screen(context.Background(), fields, s, jobOpt, faults)
	if err != nil {
		t.Fatal(err)
	}
	return r, faults
}

func folder(dir string) []soilmap.Source {
	return []soilmap.Source{{Name: dir, Files: os.DirFS(dir), Path: "."}}
}

func file(path string) soilmap.Source {
	return soilmap.Source{Name: path, Files: os.DirFS(filepath.Dir(path)), Path: filepath.Base(path)}
}

func asTables(s soilmap.Source) soilmap.Source {
	s.Tables = true
	return s
}

// A survey is the same survey in whatever form it came: zones, classes, areas and lime agree to the last bit. The forms
// are made from one real export with our own writers and the database library.
func TestEveryFormGivesTheSame(t *testing.T) {
	for _, c := range []struct{ survey, fields, symbol string }{{"ssurgo-ia073-aoi", "fields-ia073-invented", "IA073"}, {"ssurgo-ar017", "fields-ar017-invented", "AR017"}} {
		t.Run(c.symbol, func(t *testing.T) {
			if c.symbol == "AR017" && (testing.Short() || racing) {
				t.Skip("a whole county in a database takes minutes under the race detector")
			}
			dir := shared(t, c.survey)
			fields := fieldsOf(t, filepath.Join(shared(t, c.fields), "fields.geojson"))
			want, faults := screen(t, fields, folder(dir), soilmap.Options{}, job.Options{})
			if len(want.Zones) < 10 {
				t.Fatalf("%d zones\n%s", len(want.Zones), faults)
			}
			x := readExport(t, dir)
			for _, name := range slices.Sorted(maps.Keys(forms)) {
				t.Run(name, func(t *testing.T) {
					sources := forms[name](t, x, dir, c.symbol)
					got, faults := screen(t, fields, sources, soilmap.Options{}, job.Options{})
					same(t, got, want)
					if n := faults.Faults(); n != 0 && !strings.Contains(faults.String(), "outside the survey") {
						t.Errorf("%d faults:\n%s", n, faults)
					}
				})
			}
		})
	}
}

// same compares all that a run answers; what it was made from may differ.
func same(t *testing.T, got, want *suitability.Result) {
	t.Helper()
	if len(got.Zones) != len(want.Zones) {
		t.Fatalf("%d zones, want %d", len(got.Zones), len(want.Zones))
	}
	for i := range got.Zones {
		if !reflect.DeepEqual(got.Zones[i], want.Zones[i]) {
			g, w := got.Zones[i], want.Zones[i]
			t.Errorf("zone %s of %s: class %v, %v m², lime %v; want %s, %v, %v m², %v", g.ID, g.Symbol, g.Rating.Class, g.Area, g.Lime.Likely, w.Symbol, w.Rating.Class, w.Area, w.Lime.Likely)
		}
	}
	if !reflect.DeepEqual(got.Fields, want.Fields) {
		t.Error("the fields differ")
	}
}

// forms are the ways in which a survey may come. Each is made from the export x in dir.
var forms = map[string]func(t *testing.T, x *export, dir, symbol string) []soilmap.Source{
	"zip": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		return []soilmap.Source{{Name: "survey.zip", Files: zipped(t, dir, "deep/"+symbol), Path: "."}}
	},
	"GeoPackage": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		path := filepath.Join(t.TempDir(), "survey.gpkg")
		x.writeGeoPackage(t, path, "mupolygon")
		x.addTables(t, path, strings.ToLower, asNumbers)
		return []soilmap.Source{file(path)}
	},
	"GeoPackage, names in capitals, all text": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		path := filepath.Join(t.TempDir(), "survey.gpkg")
		x.writeGeoPackage(t, path, "MUPOLYGON")
		x.addTables(t, path, strings.ToUpper, asText)
		return []soilmap.Source{file(path)}
	},
	"GeoPackage, single precision": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		path := filepath.Join(t.TempDir(), "survey.gpkg")
		x.writeGeoPackage(t, path, "soilmu_a_"+strings.ToLower(symbol))
		x.addTables(t, path, strings.ToLower, asSingles)
		return []soilmap.Source{file(path)}
	},
	"SQLite tables, shapefile": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		path := filepath.Join(t.TempDir(), "survey.sqlite")
		x.addTables(t, path, strings.ToUpper, asText)
		return []soilmap.Source{file(path), file(x.shapefile)}
	},
	"text tables, shapefile": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		return []soilmap.Source{file(x.shapefile), asTables(folder(dir)[0])}
	},
	"text tables, FlatGeobuf": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		var b bytes.Buffer
		if err := flatgeobuf.Write(&b, flatgeobuf.Content{Name: "soils", Columns: polygonColumns, Rows: x.rows()}); err != nil {
			t.Fatal(err)
		}
		return []soilmap.Source{{Name: "soils.fgb", Files: fstest.MapFS{"soils.fgb": {Data: b.Bytes()}}, Path: "soils.fgb"}, asTables(folder(dir)[0])}
	},
	"text tables, GeoJSON": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		return []soilmap.Source{{Name: "soils.json", Files: fstest.MapFS{"soils.json": {Data: x.geoJSON()}}, Path: "soils.json"}, asTables(folder(dir)[0])}
	},
	"a folder of database and shapefile": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		mixed := t.TempDir()
		x.addTables(t, filepath.Join(mixed, "tables.db"), strings.ToLower, asText)
		for _, ext := range []string{".shp", ".dbf", ".prj", ".shx"} {
			b, err := os.ReadFile(strings.TrimSuffix(x.shapefile, ".shp") + ext)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(mixed, "soilmu_a"+ext), b, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		return folder(mixed)
	},
	"from the service": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		service, err := standin.New(os.DirFS(dir))
		if err != nil {
			t.Fatal(err)
		}
		server := httptest.NewServer(service)
		defer server.Close()
		got, err := soildata.Fetch(context.Background(), soildata.Request{Areas: []string{symbol}}, soildata.Options{Dir: t.TempDir(), BaseURL: server.URL, Wait: time.Millisecond}, &diag.List{})
		if err != nil || len(got) != 1 {
			t.Fatal(got, err)
		}
		return folder(got[0].Folder)
	},
	"keys and order as of another year": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		return []soilmap.Source{{Name: "next year", Files: rekeyed(t, dir), Path: "."}}
	},
	"twice": func(t *testing.T, x *export, dir, symbol string) []soilmap.Source {
		return append(folder(dir), soilmap.Source{Name: "survey.zip", Files: zipped(t, dir, symbol), Path: "."})
	},
}

// zipped packs a folder.
func zipped(t *testing.T, dir, below string) fs.FS {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, part := range []string{"tabular", "spatial"} {
		entries, err := os.ReadDir(filepath.Join(dir, part))
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			f, err := w.Create(below + "/" + part + "/" + e.Name())
			if err != nil {
				t.Fatal(err)
			}
			content, err := os.ReadFile(filepath.Join(dir, part, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			if _, err := io.Copy(f, bytes.NewReader(content)); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// rekeyed returns the export with new keys of components, horizons and months, and its records in another order.
func rekeyed(t *testing.T, dir string) fs.FS {
	t.Helper()
	random := rand.New(rand.NewPCG(3, 9))
	keys := map[string]string{}
	renew := func(old string) string {
		if old == "" {
			return ""
		}
		if keys[old] == "" {
			keys[old] = "9" + strings.Repeat("0", 3) + old + "7"
		}
		return keys[old]
	}
	out := fstest.MapFS{}
	for _, table := range []struct {
		file string
		keys []int // fields from the end that hold keys
	}{{"comp", []int{1}}, {"chorizon", []int{1, 2}}, {"crstrcts", []int{2}}, {"cmonth", []int{1, 2}}, {"csmoist", []int{2}}, {"chtexgrp", []int{1, 2}}, {"chtextur", []int{2}}, {"mapunit", nil}, {"legend", nil}, {"sacatlog", nil}} {
		records := readTable(t, filepath.Join(dir, "tabular", table.file+".txt"))
		for _, r := range records {
			for _, k := range table.keys {
				r[len(r)-k] = renew(r[len(r)-k])
			}
		}
		random.Shuffle(len(records), func(i, j int) { records[i], records[j] = records[j], records[i] })
		out["tabular/"+table.file+".txt"] = &fstest.MapFile{Data: writeTable(records)}
	}
	entries, err := os.ReadDir(filepath.Join(dir, "spatial"))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		b, err := os.ReadFile(filepath.Join(dir, "spatial", e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		out["spatial/"+e.Name()] = &fstest.MapFile{Data: b}
	}
	return out
}
