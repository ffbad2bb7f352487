package geopackage

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/shapefile"
)

// county is a real survey area beside the repository.
const county = "../../../../shared/data/ssurgo-ar017"

// surveyFile returns the polygons of the county as a database that GDAL made.
func surveyFile(t testing.TB) string {
	t.Helper()
	ogr2ogr, err := exec.LookPath("ogr2ogr")
	if err != nil {
		t.Skip("ogr2ogr is not installed; it comes with gdal-bin")
	}
	if _, err := os.Stat(county); err != nil {
		t.Skipf("real data are not there: %v", err)
	}
	file := filepath.Join(t.TempDir(), "survey.gpkg")
	if out, err := exec.Command(ogr2ogr, file, county+"/spatial/soilmu_a_ar017.shp", "-nln", "MUPOLYGON", "-nlt", "PROMOTE_TO_MULTI", "--config", "OGR_SQLITE_SYNCHRONOUS", "OFF").CombinedOutput(); err != nil {
		t.Fatalf("%v %s", err, out)
	}
	return file
}

// TestRealSurvey: 2,546 polygons of a county come out of a database with the keys, corners and areas they have in the
// shapefile, which another reader reads.
func TestRealSurvey(t *testing.T) {
	b, err := os.ReadFile(surveyFile(t))
	if err != nil {
		t.Fatal(err)
	}
	db, faults := open(t, b)
	l, got := readLayer(t, db, "mupolygon")
	if crs, ok, err := l.CRS(); err != nil || !ok || !crs.Geographic() {
		t.Errorf("system %v %v %v", crs, ok, err)
	}
	shp, err := shapefile.Open("soil.shp", os.DirFS(county+"/spatial"), "soilmu_a_ar017.shp", &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	key := shp.Column("MUKEY")
	err = shp.Records(func(rec *shapefile.Record) error {
		f := got[n]
		corners := 0
		for _, part := range f.Geometry {
			for _, r := range part {
				corners += len(r)
			}
		}
		if f.Text("mukey") != rec.Text(key) || corners != len(rec.Rings.XY)/2 || strings.Contains(f.Reason, " ") {
			t.Errorf("polygon %d: key %s, %d corners, in the shapefile %s, %d", n, f.Text("mukey"), corners, rec.Text(key), len(rec.Rings.XY)/2)
		}
		n++
		return nil
	})
	if err != nil || n != len(got) || n != 2546 || faults.Faults() > 0 {
		t.Errorf("%d of %d polygons, %v, %v", len(got), n, err, faults)
	}
}

func BenchmarkOpenCounty(b *testing.B) {
	name := surveyFile(b)
	b.ReportAllocs()
	for b.Loop() {
		f, err := os.Open(name)
		if err != nil {
			b.Fatal(err)
		}
		info, err := f.Stat()
		if err != nil {
			b.Fatal(err)
		}
		db, err := Open(b.Context(), name, f, info.Size(), &diag.List{})
		if err != nil {
			b.Fatal(err)
		}
		l, err := db.Layer(b.Context(), "")
		if err == nil {
			err = l.Features(b.Context(), func(feature.Feature) error { return nil })
		}
		if err != nil {
			b.Fatal(err)
		}
		db.Close()
		f.Close()
	}
}
