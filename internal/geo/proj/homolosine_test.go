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

// homolosineWKT are three texts of one system as GDAL 3.6.2 writes it.
var homolosineWKT = map[string]string{
	"WKT 1":      `PROJCS["unknown",GEOGCS["unknown",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Interrupted_Goode_Homolosine"],PARAMETER["central_meridian",0],PARAMETER["false_easting",0],PARAMETER["false_northing",0],UNIT["metre",1],AXIS["Easting",EAST],AXIS["Northing",NORTH],EXTENSION["PROJ4","+proj=igh +lat_0=0 +lon_0=0 +datum=WGS84 +units=m +no_defs"]]`,
	"of a .prj":  `PROJCS["unknown",GEOGCS["GCS_unknown",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Goode_Homolosine"],PARAMETER["False_Easting",0.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",0.0],PARAMETER["Option",1.0],UNIT["Meter",1.0]]`,
	"WKT 2:2019": `PROJCRS["unknown",BASEGEOGCRS["unknown",DATUM["World Geodetic System 1984",ELLIPSOID["WGS 84",6378137,298.257223563,LENGTHUNIT["metre",1]],ID["EPSG",6326]],PRIMEM["Greenwich",0]],CONVERSION["unknown",METHOD["Interrupted Goode Homolosine"],PARAMETER["Longitude of natural origin",0],PARAMETER["False easting",0],PARAMETER["False northing",0]],CS[Cartesian,2],AXIS["(E)",east],AXIS["(N)",north],LENGTHUNIT["metre",1]]`,
}

// Computed with cs2cs of PROJ 9.1.1: +proj=longlat +datum=WGS84 to +proj=igh +datum=WGS84; a point or two in every lobe.
func TestHomolosineAgainstPROJ(t *testing.T) {
	for name, wkt := range homolosineWKT {
		crs, err := Parse(wkt)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, c := range [][4]float64{
			{0, 0, 0, 0}, {-100, 45, -11131949.079327, 5003456.779905}, {10, 50, 1818318.351377, 5536683.824572},
			{-170, -30, -18775173.596557, -3339584.723798}, {-95, 38, -10693344.300172, 4230140.650144}, {145, -38, 16023333.490214, -4230140.650144},
			{30, -60, 2874953.746381, -6539970.861690}, {-40.0001, 60, -7240571.981874, 6539970.861690}, {-45, 70, -8336899.915026, 7437681.476253},
			{179, 80, 8206818.100203, 8190697.910138}, {-60, -20, -6679169.447596, -2226389.815865}, {25, 41, 2918890.190360, 4564077.370587},
		} {
			xy, ok := crs.FromLonLat(orb.Point{c[0], c[1]})
			if !ok || math.Hypot(xy[0]-c[2], xy[1]-c[3]) > 1e-4 {
				t.Errorf("%s: %v, %v: %.6f, want %.6f, %.6f", name, c[0], c[1], xy, c[2], c[3])
			}
			back, ok := crs.ToLonLat(orb.Point{c[2], c[3]})
			if !ok || math.Hypot(back[0]-c[0], back[1]-c[1]) > 1e-9 {
				t.Errorf("%s: %v, %v comes back as %v", name, c[0], c[1], back)
			}
		}
	}
}

func TestHomolosineHasGaps(t *testing.T) {
	crs, err := Parse(homolosineWKT["WKT 1"])
	if err != nil {
		t.Fatal(err)
	}
	// between the northern lobes, between southern ones, beyond the pole, beyond the date line; by cs2cs -I: "*"
	for _, p := range []orb.Point{{-4500000, 7500000}, {2e6 - 4.3e6, -7500000}, {0, 8.7e6}, {2.1e7, 0}} {
		if at, ok := crs.ToLonLat(p); ok {
			t.Errorf("%v lies in no lobe, but is %v", p, at)
		}
	}
	if _, err := Parse(strings.Replace(homolosineWKT["of a .prj"], `"Option",1.0`, `"Option",2.0`, 1)); err == nil {
		t.Error("a homolosine interrupted over land was taken for one interrupted over the oceans")
	}
}

func TestHomolosineAgainstInstalledPROJ(t *testing.T) {
	tool, err := exec.LookPath("cs2cs")
	if err != nil {
		t.Skip("cs2cs (Debian package proj-bin) is not installed")
	}
	crs, err := Parse(homolosineWKT["WKT 1"])
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(5, 7))
	var in bytes.Buffer
	var asked, got []orb.Point
	for len(asked) < 500 {
		p := orb.Point{r.Float64()*360 - 180, r.Float64()*180 - 90}
		if xy, ok := crs.FromLonLat(p); ok {
			asked, got = append(asked, p), append(got, xy)
			fmt.Fprintf(&in, "%.15g %.15g\n", p[0], p[1])
		}
	}
	cmd := exec.Command(tool, "-f", "%.6f", "+proj=longlat", "+datum=WGS84", "+to", "+proj=igh", "+datum=WGS84")
	cmd.Stdin = &in
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %v", cmd, err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(asked) {
		t.Fatalf("%d lines for %d points", len(lines), len(asked))
	}
	checkLines(t, crs, asked, got, lines)
}
