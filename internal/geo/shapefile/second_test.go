package shapefile

import (
	"path/filepath"
	"testing"

	shp "github.com/jonas-p/go-shp"
)

// TestSecondOpinionOnTheSurvey reads the real county with github.com/jonas-p/go-shp too: every ring, every
// coordinate, every attribute alike.
func TestSecondOpinionOnTheSurvey(t *testing.T) {
	l, _ := openReal(t, survey, "soilmu_a_ar017.shp")
	other, err := shp.Open(filepath.Join(survey, "soilmu_a_ar017.shp"))
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	err = l.Records(func(rec *Record) error {
		if !other.Next() {
			t.Fatalf("the other reader ends before record %d", rec.Index)
		}
		_, s := other.Shape()
		p := s.(*shp.Polygon)
		if int(p.NumParts) != rec.Rings.Len() || len(p.Points) != len(rec.Rings.XY)/2 {
			t.Fatalf("record %d: %d rings of %d points, other has %d of %d", rec.Index, rec.Rings.Len(), len(rec.Rings.XY)/2, p.NumParts, len(p.Points))
		}
		for i, pt := range p.Points {
			if pt.X != rec.Rings.XY[2*i] || pt.Y != rec.Rings.XY[2*i+1] {
				t.Fatalf("record %d point %d: %v, other has %v", rec.Index, i, rec.Rings.XY[2*i:2*i+2], pt)
			}
		}
		for c := range l.Columns {
			if got, want := rec.Text(c), other.Attribute(c); got != want {
				t.Fatalf("record %d %s: %q, other has %q", rec.Index, l.Columns[c].Name, got, want)
			}
		}
		return nil
	})
	if err != nil || other.Next() {
		t.Errorf("%v; the other reader has more", err)
	}
}
