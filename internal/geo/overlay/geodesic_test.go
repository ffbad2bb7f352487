package overlay

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/tidwall/geodesic"

	"rootworthy/internal/geo/proj"
)

// TestGeodesicAreas checks the areas of all pieces of 200 fields on the real survey AR017 against geodesic areas
// (Karney's algorithm, by tidwall/geodesic) of the same rings with a point every 5 m at most: 1e-6, which the
// equal-area plane has to keep, or the rounding to a tenth of a millimetre of a small piece's edge.
func TestGeodesicAreas(t *testing.T) {
	survey, keys := shapefile(t, needData(t, "ssurgo-ar017/spatial/soilmu_a_ar017.shp"))
	c := coverageOf(t, survey, keys)
	crs, err := proj.FromEPSG(5070)
	if err != nil {
		t.Fatal(err)
	}
	var fields []orb.MultiPolygon
	for i := range 200 {
		r := survey[i*12][0][0]
		fields = append(fields, geoCircle(r[0][0], r[0][1], 400, 90))
	}
	pieces, worst := 0, 0.0
	for _, cut := range runAll(t, c, fields, Options{}) {
		for _, p := range cut.Pieces {
			want := geodesicArea(t, crs, p.Shape)
			pieces++
			off := math.Abs(p.Area - want)
			if p.Area > 1e4 {
				worst = max(worst, off/p.Area)
			}
			if off > 1e-6*p.Area+1e-3 {
				t.Errorf("field %d, polygon %d: %.4f m², %.4f on the ellipsoid", cut.Field, p.Polygon, p.Area, want)
			}
		}
	}
	if pieces < 400 {
		t.Errorf("only %d pieces", pieces)
	}
	t.Logf("%d pieces; those of more than a hectare are off by at most %.2g of their area", pieces, worst)
}

// geodesicArea returns the area in m² of a shape of the plane on the ellipsoid: straight edges of the plane, cut into
// stretches of at most 5 m.
func geodesicArea(t *testing.T, crs proj.CRS, shape orb.MultiPolygon) (sum float64) {
	for _, part := range shape {
		for _, ring := range part {
			g := geodesic.WGS84.PolygonInit(false)
			for i := 1; i < len(ring); i++ {
				a, b := ring[i-1], ring[i]
				n := math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1]) / 5)
				for k := range int(n) {
					f := float64(k) / n
					q, ok := crs.ToLonLat(orb.Point{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])})
					if !ok {
						t.Fatalf("%v has no place on Earth", a)
					}
					g.AddPoint(q[1], q[0])
				}
			}
			var area float64
			g.Compute(false, true, &area, nil)
			sum += area
		}
	}
	return sum
}
