package proj

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// TestAgainstInstalledPROJ asks PROJ itself, where it is installed, for random points far beyond the areas of use, where
// testdata/points.csv does not reach: another version than 9.1.1 is a further opinion.
func TestAgainstInstalledPROJ(t *testing.T) {
	tool, err := exec.LookPath("cs2cs")
	if err != nil {
		t.Skip("cs2cs (Debian package proj-bin) is not installed")
	}
	const seed = 11
	for code, base := range map[int]int{5070: 4269, 3338: 4269, 26915: 4269, 32760: 4326, 26931: 4269, 8065: 6318, 2225: 4269, 6792: 6783, 3857: 4326} {
		r := rand.New(rand.NewPCG(seed, uint64(code)))
		crs := mustEPSG(t, code)
		var in bytes.Buffer
		var asked, got []orb.Point
		for len(asked) < 200 {
			p := orb.Point{r.Float64()*360 - 180, r.Float64()*170 - 85}
			if xy, ok := crs.FromLonLat(p); ok {
				asked, got = append(asked, p), append(got, xy)
				fmt.Fprintf(&in, "%.15g %.15g\n", p[1], p[0])
			}
		}
		cmd := exec.Command(tool, "-f", "%.6f", fmt.Sprint("EPSG:", base), fmt.Sprint("EPSG:", code))
		cmd.Stdin = &in
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%v: %v", cmd, err)
		}
		lines := strings.Split(strings.TrimSpace(string(out)), "\n")
		if len(lines) != len(asked) {
			t.Fatalf("%v: %d lines for %d points", cmd, len(lines), len(asked))
		}
		checkLines(t, crs, asked, got, lines)
	}
}

// checkLines compares; "*" is PROJ's word for a point it will not project (it stops short of our range in places).
func checkLines(t *testing.T, crs CRS, asked, got []orb.Point, lines []string) {
	t.Helper()
	worst, compared := 0.0, 0
	for i, line := range lines {
		var x, y, z float64
		if n, _ := fmt.Sscan(line, &x, &y, &z); n < 2 {
			continue
		}
		compared++
		// Far out, eight decimals of a degree or a scale of some hundreds are what is left of 0.1 mm.
		d := math.Hypot(x-got[i][0], y-got[i][1]) / math.Max(1, math.Hypot(x, y)/1e7)
		if !(d < 1e-4) {
			t.Errorf("%v: %v → %.6f, PROJ has %s", crs, asked[i], got[i], line)
		}
		worst = math.Max(worst, d)
	}
	if compared < len(lines)/2 {
		t.Errorf("%v: only %d of %d points compared", crs, compared, len(lines))
	}
	t.Logf("%v: %d points, at most %.2g m from PROJ", crs, compared, worst)
}
