package shapefile

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// survey is a real county survey beside the repository.
const survey = "../../../../shared/data/ssurgo-ar017/spatial"

func openReal(t testing.TB, dir, file string) (*Layer, *diag.List) {
	t.Helper()
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("real survey %s is not there: %v", dir, err)
	}
	faults := &diag.List{}
	l, err := Open(filepath.Join(dir, file), os.DirFS(dir), file, faults)
	if err != nil {
		t.Fatal(err)
	}
	return l, faults
}

// TestRealCounty: the counts are those the data's own README gives (made with GEOS and GDAL), holes and vertices
// counted with another reader of the same file.
func TestRealCounty(t *testing.T) {
	l, faults := openReal(t, survey, "soilmu_a_ar017.shp")
	mukey, keys := l.Column("mukey"), map[string]int{}
	var polygons, parts, holes, vertices, withHoles int
	err := l.Polygons(func(i int, shape orb.MultiPolygon, rec *Record) error {
		if i != polygons {
			t.Errorf("record %d came at place %d", i, polygons)
		}
		polygons++
		parts += len(shape)
		has := 0
		for _, p := range shape {
			has += len(p) - 1
			for k, ring := range p {
				vertices += len(ring)
				if ccw := ring.Orientation() == orb.CCW; ccw != (k == 0) {
					t.Errorf("record %d ring %d turns the wrong way", i, k)
				}
			}
		}
		holes += has
		if has > 0 {
			withHoles++
		}
		keys[rec.Text(mukey)]++
		return nil
	})
	if err != nil || len(faults.Kept()) > 0 {
		t.Fatal(err, faults)
	}
	got := [6]int{polygons, parts, holes, vertices, withHoles, len(keys)}
	if want := [6]int{2546, 2546, 546, 156897, 168, 41}; got != want {
		t.Errorf("polygons, parts, holes, vertices, with holes, map units = %v, want %v", got, want)
	}
	if l.Projection == "" || l.Columns[3].Name != "MUKEY" {
		t.Errorf("projection %q, columns %v", l.Projection, l.Columns)
	}
}

func BenchmarkRecords(b *testing.B) {
	l, _ := openReal(b, survey, "soilmu_a_ar017.shp")
	b.SetBytes(2655212)
	b.ReportAllocs()
	for b.Loop() {
		if err := l.Records(func(*Record) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPolygons(b *testing.B) {
	l, _ := openReal(b, survey, "soilmu_a_ar017.shp")
	b.SetBytes(2655212)
	b.ReportAllocs()
	for b.Loop() {
		if err := l.Polygons(func(int, orb.MultiPolygon, *Record) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
}
