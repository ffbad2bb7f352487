package proj

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// wktCase is one line of testdata/wkt.txt.
type wktCase struct {
	code          int
	dialect, text string
}

// wktCases reads testdata/wkt.txt: systems of all methods, datums and units, each in three dialects, as PROJ 9.1.1
// writes them (projinfo -o WKT1_GDAL, WKT1_ESRI, WKT2:2019).
func wktCases(t testing.TB) []wktCase {
	t.Helper()
	text, err := os.ReadFile("testdata/wkt.txt")
	if err != nil {
		t.Fatal(err)
	}
	var all []wktCase
	for line := range strings.Lines(string(text)) {
		cells := strings.SplitN(strings.TrimSpace(line), "\t", 3)
		if code, err := strconv.Atoi(cells[0]); err == nil && len(cells) == 3 {
			all = append(all, wktCase{code, cells[1], cells[2]})
		}
	}
	return all
}

// TestParseAgainstCodes: a system's text in any dialect projects as its code does. Texts print angles with 15 digits
// and false origins of feet with 3 decimals, hence the 0.2 mm.
func TestParseAgainstCodes(t *testing.T) {
	all := wktCases(t)
	if len(all) < 100 {
		t.Fatalf("testdata/wkt.txt has %d texts", len(all))
	}
	at := map[int]point{}
	for _, p := range points(t) {
		at[p.code] = p
	}
	worst := 0.0
	for _, w := range all {
		crs, err := Parse(w.text)
		if err != nil {
			t.Errorf("Parse(EPSG:%d as %s): %v", w.code, w.dialect, err)
			continue
		}
		code, claimed := crs.EPSG()
		if want := w.dialect != "WKT1_ESRI" || crs.Geographic(); claimed != want || claimed && code != w.code {
			t.Errorf("Parse(EPSG:%d as %s).EPSG() = %d, %v; note %q", w.code, w.dialect, code, claimed, crs.Note())
		}
		table, err := FromEPSG(w.code)
		if err != nil {
			t.Errorf("FromEPSG(%d): %v", w.code, err)
			continue
		}
		if crs.Note() != table.Note() {
			t.Errorf("Parse(EPSG:%d as %s).Note() = %q, want %q", w.code, w.dialect, crs.Note(), table.Note())
		}
		if crs.Geographic() {
			continue
		}
		p, metres := at[w.code], crs.unit.metre
		xy, ok := crs.FromLonLat(p.lonLat)
		d := math.Hypot(xy[0]-p.xy[0], xy[1]-p.xy[1]) * metres
		if !ok || d > 2e-4 {
			t.Errorf("Parse(EPSG:%d as %s) puts %v at %v, want %v", w.code, w.dialect, p.lonLat, xy, p.xy)
		}
		worst = math.Max(worst, d)
	}
	t.Logf("%d texts, at most %.2g m from PROJ", len(all), worst)
}
