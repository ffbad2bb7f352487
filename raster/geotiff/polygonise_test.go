package geotiff

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/geo/arrange"
	"rootworthy/raster"
)

// TestOutlinesAgainstGDAL: outlines of real keys against gdal_polygonize 3.6.2: as many patches and as much
// ground of each key; and ours are valid.
func TestOutlinesAgainstGDAL(t *testing.T) {
	for _, name := range []string{"gssurgo_mukey_10m_mi.tif", "ar017_mukey_30m_derived.tif"} {
		f := openReal(t, "raster-mukey", name)
		needGDAL(t)
		zones, err := raster.Polygonise(context.Background(), read[int64](t, f, Request{}), raster.OutlineOptions{})
		if err != nil {
			t.Fatal(err)
		}
		type tally struct {
			patches, rings int
			area           float64
		}
		got, want := map[int64]tally{}, map[int64]tally{}
		for _, z := range zones {
			parts, ok := arrange.FromOrb(z.Shape, 1)
			if k := arrange.CheckAll(parts).Kind; !ok || k != arrange.Valid {
				t.Errorf("%s key %d: %v", name, z.Key, k)
			}
			n := tally{patches: len(z.Shape), area: planar.Area(z.Shape)}
			for _, p := range z.Shape {
				n.rings += len(p)
			}
			got[z.Key] = n
		}
		out := filepath.Join(t.TempDir(), "out.geojson")
		run(t, python, "/usr/bin/gdal_polygonize.py", "-q", filepath.Join(realData, "raster-mukey", name), "-f", "GeoJSON", out)
		b, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		var fc struct {
			Features []struct {
				Properties struct{ DN int64 }
				Geometry   struct{ Coordinates orb.Polygon }
			}
		}
		if err := json.Unmarshal(b, &fc); err != nil {
			t.Fatal(err)
		}
		for _, ft := range fc.Features {
			n := want[ft.Properties.DN]
			n.patches++
			n.area += planar.Area(ft.Geometry.Coordinates)
			want[ft.Properties.DN] = n
		}
		if len(got) != len(want) {
			t.Errorf("%s: %d keys, gdal_polygonize %d", name, len(got), len(want))
		}
		for key, w := range want {
			if g := got[key]; g.patches != w.patches || math.Abs(g.area-w.area) > 1e-6*w.area || g.rings < g.patches {
				t.Errorf("%s key %d: %d patches of %v m², gdal_polygonize %d of %v", name, key, g.patches, g.area, w.patches, w.area)
			}
		}
	}
}
