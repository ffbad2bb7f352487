package proj

import (
	"bytes"
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// TestShiftFigures holds the figures of the operation, its ellipsoid and its area of use to what the EPSG Geodetic Parameter
// Dataset v10.076 has under operation 1173, ellipsoid 7008 and extent 1323 (read in PROJ 9.1.1 with projinfo).
func TestShiftFigures(t *testing.T) {
	if got, want := conusShift(), (shift{1173, "NAD27 to WGS 84 (4)", -8, 160, 176, 10, "the conterminous United States", 24.41, 49.38, -124.79, -66.91}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	el := clarke1866()
	if b := el.a * (1 - el.f); el.a != 6378206.4 || math.Abs(b-6356583.8) > 1e-8 || math.Abs(1/el.f-294.978698213898) > 1e-11 {
		t.Errorf("radii %v and %v, inverse flattening %v", el.a, b, 1/el.f)
	}
}

// TestShiftPublished is the worked example of EPSG Guidance Note 7-2 for method 9603, from WGS 84 to ED50 in the North Sea
// (the figures from memory, reproduced with PROJ 9.1.1). It starts 73 m above the ellipsoid; left out here, that is 2 mm.
func TestShiftPublished(t *testing.T) {
	lon, lat := moved(wgs84(), newEllipsoid(6378388, 297), dms(2, 7, 46.38)*degree, dms(53, 48, 33.82)*degree, 84.87, 96.49, 116.95)
	const half = 0.0005 / 3600 // of the last digit printed
	if math.Abs(lon/degree-dms(2, 7, 51.477)) > half || math.Abs(lat/degree-dms(53, 48, 36.565)) > half {
		t.Errorf("%.8f %.8f, want 2°07'51.477\" E, 53°48'36.565\" N", lon/degree, lat/degree)
	}
}

// TestNAD27Degrees: places over the States, from NAD27 and to it. Computed with PROJ 9.1.1:
// cct -d 10 [-I] urn:ogc:def:coordinateOperation:EPSG::1173. A millimetre is 1e-8 degrees.
func TestNAD27Degrees(t *testing.T) {
	crs := mustEPSG(t, 4267)
	for _, c := range []struct{ at, toWGS84, fromWGS84 orb.Point }{
		{orb.Point{-90.9, 46.8}, orb.Point{-90.9001377042, 46.7999956384}, orb.Point{-90.8998623017, 46.8000043614}},
		{orb.Point{-96, 39}, orb.Point{-96.0002849118, 39.0000345912}, orb.Point{-95.9997150991, 38.9999654078}},
		{orb.Point{-124.5, 48.2}, orb.Point{-124.5013078083, 48.1997815524}, orb.Point{-124.4986922286, 48.2002184320}},
		{orb.Point{-81, 25.2}, orb.Point{-80.9998300541, 25.2003985269}, orb.Point{-81.0001699395, 25.1996014608}},
		{orb.Point{-67.1, 45}, orb.Point{-67.0993038331, 44.9999366405}, orb.Point{-67.1006961411, 45.0000633552}},
	} {
		to, ok := crs.ToLonLat(c.at)
		from, ok2 := crs.FromLonLat(c.at)
		if !ok || !ok2 || !(ground(to, c.toWGS84) < 1e-4) || !(ground(from, c.fromWGS84) < 1e-4) {
			t.Errorf("%v: to WGS 84 %.10f (%v), want %v; from it %.10f (%v), want %v", c.at, to, ok, c.toWGS84, from, ok2, c.fromWGS84)
		}
	}
}

// TestShiftAgainstInstalledPROJ asks PROJ's own EPSG:1173, where it is installed, over the whole area of use and both ways.
func TestShiftAgainstInstalledPROJ(t *testing.T) {
	tool, err := exec.LookPath("cct")
	if err != nil {
		t.Skip("cct (Debian package proj-bin) is not installed")
	}
	crs := mustEPSG(t, 4267)
	for _, way := range []struct {
		name string
		args []string
		ours func(orb.Point) (orb.Point, bool)
	}{{"to WGS 84", nil, crs.ToLonLat}, {"from WGS 84", []string{"-I"}, crs.FromLonLat}} {
		var in bytes.Buffer
		var got []orb.Point
		// A hundredth of a degree inside: on the border itself a shift of some 10" may lead out.
		for lat := 24.42; lat < 49.38; lat += 0.52 {
			for lon := -124.78; lon < -66.91; lon += 0.83 {
				xy, ok := way.ours(orb.Point{lon, lat})
				if !ok {
					t.Fatalf("%s: %v, %v has no place", way.name, lon, lat)
				}
				got = append(got, xy)
				fmt.Fprintf(&in, "%.10f %.10f 0 0\n", lat, lon)
			}
		}
		cmd := exec.Command(tool, append(way.args, "-d", "12", "urn:ogc:def:coordinateOperation:EPSG::1173")...)
		cmd.Stdin = &in
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%v: %v", cmd, err)
		}
		lines := strings.Split(strings.TrimSpace(string(out)), "\n")
		if len(lines) != len(got) || len(got) < 3000 {
			t.Fatalf("%v: %d lines for %d points", cmd, len(lines), len(got))
		}
		worst := 0.0
		for i, line := range lines {
			var want orb.Point
			if _, err := fmt.Sscan(line, &want[1], &want[0]); err != nil {
				t.Fatalf("%v: %q: %v", cmd, line, err)
			}
			worst = math.Max(worst, ground(got[i], want))
		}
		if !(worst < 1e-4) {
			t.Errorf("%s: up to %g m from PROJ, want 0.1 mm", way.name, worst)
		}
		t.Logf("%s: %d points, at most %.2g m from PROJ", way.name, len(got), worst)
	}
}

// TestNorthingOfUTM: one place has two northings in a UTM zone, some 200 m apart between NAD27 and NAD83, as everybody who
// mixed them up knows (common practice, no source). Most of that is the ellipsoid and not the datum: a program that takes
// one for the other is that far off although the degrees differ by little.
func TestNorthingOfUTM(t *testing.T) {
	at := orb.Point{-90.9, 46.8} // Wisconsin, zone 15
	old, ok := mustEPSG(t, 26715).FromLonLat(at)
	now, ok2 := mustEPSG(t, 26915).FromLonLat(at)
	if d := now[1] - old[1]; !ok || !ok2 || d < 190 || d > 230 {
		t.Errorf("northing %.1f on NAD27 and %.1f on NAD83, %.1f m apart, want about 200", old[1], now[1], d)
	}
	if d := now[0] - old[0]; math.Abs(d) > 60 {
		t.Errorf("eastings are %.1f m apart", d)
	}
}

// TestOutsideAreaOfUse: the shift was measured in the conterminous States; elsewhere there is no answer rather than a wrong
// one, whichever way it is asked.
func TestOutsideAreaOfUse(t *testing.T) {
	for _, code := range []int{4267, 26715, 5069} {
		crs := mustEPSG(t, code)
		for name, at := range map[string]orb.Point{"Alaska": {-150, 61}, "Ontario": {-90, 50}, "Chihuahua": {-106, 24}, "at sea": {-66, 42}, "Siberia": {93, 47}} {
			if xy, ok := crs.FromLonLat(at); ok {
				t.Errorf("%v has %s at %v", crs, name, xy)
			}
		}
	}
	for name, xy := range map[string]orb.Point{"Ontario": {500000, 5600000}, "the Yucatan": {500000, 2300000}} {
		if at, ok := mustEPSG(t, 26715).ToLonLat(xy); ok {
			t.Errorf("%s is taken for %v", name, at)
		}
	}
	if at, ok := mustEPSG(t, 4267).ToLonLat(orb.Point{-150, 61}); ok {
		t.Errorf("Alaska is taken for %v", at)
	}
}

// TestFitForLines: every datum that is used as it stands may carry boundaries, and NAD27 may not, by whatever way it is
// named; the sentence says what was read, how far it is off and the way out.
func TestFitForLines(t *testing.T) {
	for _, d := range datums() {
		crs := mustEPSG(t, d.code)
		err := crs.FitForLines()
		if d.code != 4267 && err != nil {
			t.Errorf("%s: %v", d.name, err)
		}
		metres, by := crs.Accuracy()
		if (metres == 0) != (d.code == 4326) || (by == "") != (d.code == 4326) || metres > 4 != (d.code == 4267) {
			t.Errorf("%s: %v m by %q", d.name, metres, by)
		}
	}
	if err := (CRS{}).FitForLines(); err != nil {
		t.Errorf("no system: %v", err)
	}
	wkt := strings.NewReplacer("D_North_American_1983", "D_North_American_1927", "GRS_1980", "Clarke_1866", "6378137.0,298.257222101", "6378206.4,294.9786982").Replace(esriUTM15)
	named, err := Parse(wkt)
	if err != nil {
		t.Fatal(err)
	}
	for _, crs := range []CRS{named, mustEPSG(t, 4267), mustEPSG(t, 32052)} {
		err := crs.FitForLines()
		if err == nil {
			t.Errorf("%v may carry lines", crs)
			continue
		}
		for _, say := range []string{quote(crs.Name()), "NAD27", "10 m", "EPSG:1173", "convert the file to EPSG:4326", "grid"} {
			if !strings.Contains(err.Error(), say) {
				t.Errorf("%v: %q does not say %q", crs, err, say)
			}
		}
	}
}
