package soilmap_test

import (
	"bytes"
	"context"
	"os"
	"testing"
	"testing/fstest"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/flatgeobuf"
	"rootworthy/internal/geo/geopackage"
	"rootworthy/internal/soilmap"
	"rootworthy/soils/ssurgo"
)

// FuzzOpen gives any bytes as a survey: refusing is fine, a panic, a hang or polygons off the earth are not.
func FuzzOpen(f *testing.F) {
	x := &export{polygons: []ssurgo.Polygon{{Area: "ZZ001", Unit: "7", Shape: orb.MultiPolygon{{{{-20, 40}, {-19.9, 40}, {-19.9, 40.1}, {-20, 40}}}}}}}
	f.Add(x.geoJSON())
	var b bytes.Buffer
	if err := flatgeobuf.Write(&b, flatgeobuf.Content{Name: "soils", Columns: polygonColumns, Rows: x.rows()}); err != nil {
		f.Fatal(err)
	}
	f.Add(bytes.Clone(b.Bytes()))
	b.Reset()
	if err := geopackage.Write(context.Background(), &b, []geopackage.Content{{Name: "mupolygon", Columns: polygonColumns, Rows: x.rows()}}, time.Unix(0, 0)); err != nil {
		f.Fatal(err)
	}
	f.Add(bytes.Clone(b.Bytes()))
	grid, err := os.ReadFile("testdata/phh2o_0-5cm_mean.tif")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(grid)
	f.Add([]byte(`<wfs:FeatureCollection xmlns:wfs="http://www.opengis.net/wfs" xmlns:gml="http://www.opengis.net/gml"><gml:featureMember><p><mukey>1</mukey></p></gml:featureMember></wfs:FeatureCollection>`))
	f.Fuzz(func(t *testing.T, data []byte) {
		ctx, cancel := context.WithTimeout(context.Background(), time.Second)
		defer cancel()
		for _, name := range []string{"survey", "phh2o_0-5cm_mean.tif"} {
			s, err := soilmap.Open(ctx, []soilmap.Source{{Name: name, Files: fstest.MapFS{name: {Data: data}}, Path: name}},
				soilmap.Options{Around: []orb.Bound{{Min: orb.Point{-69.01, 40.41}, Max: orb.Point{-68.9, 40.43}}}}, &diag.List{})
			if err != nil {
				continue
			}
			_ = s.Polygons(ctx, func(_, _ string, shape orb.MultiPolygon) error {
				if b := shape.Bound(); len(shape) > 0 && !(b.Min[0] >= -180 && b.Max[0] <= 180 && b.Min[1] >= -90 && b.Max[1] <= 90) {
					t.Errorf("a polygon off the earth: %v", b)
				}
				return nil
			})
			s.Close()
		}
	})
}
