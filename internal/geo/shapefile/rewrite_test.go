package shapefile

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
)

// TestSurveyRewritten: the real county, sorted into parts and holes and written again, is byte for byte the .shp and
// .shx that the survey's own software wrote.
func TestSurveyRewritten(t *testing.T) {
	l, _ := openReal(t, survey, "soilmu_a_ar017.shp")
	var rs []row
	err := l.Polygons(func(i int, shape orb.MultiPolygon, rec *Record) error {
		rs = append(rs, row{shape, []any{rec.Text(l.Column("MUKEY"))}})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	files := write(t, "again", []Column{{Name: "MUKEY", Type: 'C'}}, rs)
	for _, ext := range []string{".shp", ".shx"} {
		want, err := os.ReadFile(filepath.Join(survey, "soilmu_a_ar017"+ext))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(files["again"+ext].Data, want) {
			t.Errorf("%s differs", ext)
		}
	}
}
