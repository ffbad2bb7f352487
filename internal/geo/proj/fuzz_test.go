package proj

import (
	"testing"

	"github.com/paulmach/orb"
)

// FuzzParse: any text is refused or gives a system that never returns NaN or infinity, and whose own coordinates of a
// place, taken back, give that place wherever its constants are those of a system known by code.
func FuzzParse(f *testing.F) {
	for i, w := range wktCases(f) {
		if i%7 == 0 {
			f.Add(w.text, -93.0, 42.0)
		}
	}
	f.Add(esriUTM15, 5e5, 4.6e6)
	f.Add(`COMPD_CS["x",`+esriNAD83+`]`, 180.0, -90.0)
	f.Add(`PROJCS("",A[1e999,"""",-.5e-3,b])`, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, text string, a, b float64) {
		crs, err := Parse(text)
		if err != nil {
			if crs != (CRS{}) || len(err.Error()) > 2000 {
				t.Fatalf("error %v with %v", err, crs)
			}
			return
		}
		p := orb.Point{a, b}
		if lonLat, ok := crs.ToLonLat(p); ok && !onEarth(lonLat[0], lonLat[1]) {
			t.Fatalf("%q: ToLonLat(%v) = %v", text, p, lonLat)
		}
		xy, ok := crs.FromLonLat(p)
		if ok && !finite(xy[0], xy[1]) {
			t.Fatalf("%q: FromLonLat(%v) = %v", text, p, xy)
		}
		if code, known := crs.EPSG(); known {
			want, err := FromEPSG(code)
			if err != nil || want.par != crs.par || want.kind != crs.kind || want.geo != crs.geo {
				t.Fatalf("%q calls itself %v and is not: %v", text, crs, err)
			}
			if back, ok2 := crs.ToLonLat(xy); ok && ok2 && b > -89 && b < 89 && !(ground(p, back) < 1e-3) {
				t.Fatalf("%v: %v → %v → %v", crs, p, xy, back)
			}
		}
	})
}
