package proj

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// point is one row of testdata/points.csv.
type point struct {
	code       int
	lonLat, xy orb.Point
}

// points reads testdata/points.csv: a point of every projected system, computed with PROJ 9.1.1.
func points(t testing.TB) []point {
	t.Helper()
	text, err := os.ReadFile("testdata/points.csv")
	if err != nil {
		t.Fatal(err)
	}
	var all []point
	for line := range strings.Lines(string(text)) {
		cells := strings.Split(strings.TrimSpace(line), ",")
		code, err := strconv.Atoi(cells[0])
		if err != nil || len(cells) != 5 {
			continue // comment or header
		}
		var v [4]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(cells[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		all = append(all, point{code, orb.Point{v[0], v[1]}, orb.Point{v[2], v[3]}})
	}
	return all
}

// TestEveryCodeAgainstPROJ holds every projected system to PROJ 9.1.1 within 0.02 mm there and 1e-9 degrees back; those on
// NAD27 to the same and 1e-8.
func TestEveryCodeAgainstPROJ(t *testing.T) {
	all := points(t)
	if len(all) < 1980 {
		t.Fatalf("testdata/points.csv has %d points, want one for each of some 1,990 systems", len(all))
	}
	var worst, worstBack float64
	for _, p := range all {
		crs, err := FromEPSG(p.code)
		if err != nil {
			t.Errorf("FromEPSG(%d): %v", p.code, err)
			continue
		}
		xy, ok := crs.FromLonLat(p.lonLat)
		_, metres := crs.Unit()
		d := math.Hypot(xy[0]-p.xy[0], xy[1]-p.xy[1]) * metres
		if !ok || d > 2e-5 {
			t.Errorf("%v %s FromLonLat(%v) = %.6f, %v, want %.6f (PROJ 9.1.1), %.6f m off", crs, crs.Name(), p.lonLat, xy, ok, p.xy, d)
		}
		back, ok := crs.ToLonLat(xy)
		e := math.Max(math.Abs(back[0]-p.lonLat[0]), math.Abs(back[1]-p.lonLat[1]))
		most := 1e-9
		if crs.datum == 4267 {
			most = 1e-8 // a millimetre: why a shift does not come back nearer, [shifted] says
		}
		if !ok || e > most {
			t.Errorf("%v ToLonLat(%v) = %v, %v, want %v, %g degrees off", crs, xy, back, ok, p.lonLat, e)
		}
		worst = math.Max(worst, d)
		if crs.datum != 4267 {
			worstBack = math.Max(worstBack, e)
		}
	}
	t.Logf("%d systems: at most %.2g m from PROJ, %.2g degrees after a round trip", len(all), worst, worstBack)
}
