package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// nad27Heights is a real elevation raster in NAD27 / UTM zone 15N, 416 × 389 cells of 8.8 m, which says nothing of its unit
// and holds feet (its README in the shared data).
const nad27Heights = "../../../shared/data/dem/dem_nad27_utm15n_feet.tif"

// nad27Zone is a block of 40 × 80 cells of the raster, drawn as soil.
type nad27Zone struct {
	key  string        // of a map unit of the demo
	ring [4][2]float64 // its corners on WGS 84, from the south-west and to the left
	col  int           // its first column; rows are 120 to 199
	gdal float64       // mean slope of its cells, percent, by gdaldem slope -p -s 3.280839895013123 (3.6.2, Horn)
}

// nad27Zones lie side by side and make up a field. Their corners are corners of cells, brought to WGS 84 not by this program
// but with PROJ 9.1.1: cs2cs -f %.10f +proj=utm +zone=15 +ellps=clrk66 +towgs84=-8,160,176 +to +proj=longlat +datum=WGS84.
func nad27Zones() []nad27Zone {
	top := [4][2]float64{{-91.3153663927, 46.8114106064}, {-91.3107455947, 46.8113424838}, {-91.3061248135, 46.8112741747}, {-91.3015040492, 46.8112056792}}
	low := [4][2]float64{{-91.3155645330, 46.8050656580}, {-91.3109442778, 46.8049975504}, {-91.3063240395, 46.8049292564}, {-91.3017038180, 46.8048607760}}
	out := []nad27Zone{{key: "9900011", gdal: 13.4348}, {key: "9900012", gdal: 18.2968}, {key: "9900015", gdal: 19.5527}}
	for i := range out {
		out[i].ring = [4][2]float64{low[i], low[i+1], top[i+1], top[i]}
		out[i].col = 160 + 40*i
	}
	return out
}

// writeRings writes a GeoJSON of polygons, each with one property.
func writeRings(t *testing.T, file, property string, values []string, rings [][][2]float64) {
	t.Helper()
	var features []any
	for i, ring := range rings {
		features = append(features, map[string]any{"type": "Feature", "properties": map[string]any{property: values[i]},
			"geometry": map[string]any{"type": "Polygon", "coordinates": []any{append(ring, ring[0])}}})
	}
	b, err := json.Marshal(map[string]any{"type": "FeatureCollection", "features": features})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, b, 0o600); err != nil {
		t.Fatal(err)
	}
}

// The one real elevation raster, from the command line to the map: zones of an invented field on the very cells of the
// raster have the mean slope that gdaldem gives those cells. A shift left out (some 200 m) moves these means by up to
// 3.6 percent of slope, one of 10 m by up to 0.3; 0.001 allows for what the map rounds off (0.0001) and for gdaldem, which
// reckons in single precision.
func TestScreenWithHeightsOnNAD27(t *testing.T) {
	if _, err := os.Stat(nad27Heights); err != nil {
		t.Skipf("the real height model is not there: %v", err)
	}
	dir := t.TempDir()
	must(t, exitDone, "demo", "--out", dir+"/demo")
	zones := nad27Zones()
	var keys []string
	var rings [][][2]float64
	for _, z := range zones {
		keys, rings = append(keys, z.key), append(rings, z.ring[:])
	}
	writeRings(t, dir+"/soil.geojson", "mukey", keys, rings)
	first, last := zones[0].ring, zones[len(zones)-1].ring
	writeRings(t, dir+"/field.geojson", "id", []string{"slope"}, [][][2]float64{{first[0], zones[1].ring[0], last[0], last[1], last[2], last[3], zones[1].ring[3], first[3]}})

	args := []string{"screen", dir + "/field.geojson", "--survey", dir + "/soil.geojson", "--tables", dir + "/demo/survey", "--elevation", nad27Heights, "--out", dir + "/run"}
	// Feet read as metres treble every slope, so a raster without a word of its unit is not screened with.
	if said := leftNothing(t, exitUsage, dir+"/run", args...); !strings.Contains(said, "does not say whether its heights are feet or metres; add --elevation-unit ft or --elevation-unit m") {
		t.Errorf("without a unit it says:\n%s", said)
	}
	said := strings.Join(strings.Fields(must(t, exitDone, append(args, "--elevation-unit", "ft")...)), " ")
	for _, say := range []string{"NAD27 is brought to WGS 84 by one shift for all of the conterminous United States (EPSG:1173, NAD27 to WGS 84 (4)), good to about 10 m: its heights may lie up to 10 m to the side", "the slope of 3 zones is measured on it"} {
		if strings.Count(said, say) != 1 {
			t.Errorf("%d times %q:\n%s", strings.Count(said, say), say, said)
		}
	}

	slope := measuredSlopes(t, dir+"/run/zones.geojson")
	live := gdalSlopes(t, zones)
	if len(slope) != len(zones) {
		t.Fatalf("%d zones, want %d", len(slope), len(zones))
	}
	for i, z := range zones {
		if live != nil && math.Abs(live[i]-z.gdal) > 1e-3 {
			t.Errorf("map unit %s: gdaldem as installed says %.4f %%, 3.6.2 said %.4f", z.key, live[i], z.gdal)
		}
		if !(math.Abs(slope[z.key]-z.gdal) <= 1e-3) {
			t.Errorf("map unit %s: slope %.4f %%, gdaldem %.4f", z.key, slope[z.key], z.gdal)
		}
	}
	why := strings.Join(strings.Fields(must(t, exitDone, "screen", "--out", dir+"/run", "--explain", "slope/1")), " ")
	if !strings.Contains(why, "measured on the elevation raster; the survey says 3 %") {
		t.Errorf("it is not explained:\n%s", why)
	}
}

// measuredSlopes returns the slope of zones by map unit, as the map has it.
func measuredSlopes(t *testing.T, file string) map[string]float64 {
	t.Helper()
	var m struct {
		Features []struct {
			Properties struct {
				Key   string   `json:"mukey"`
				Slope *float64 `json:"slope_pct"`
			}
		}
	}
	if err := json.Unmarshal([]byte(fileText(t, file)), &m); err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	for _, f := range m.Features {
		if f.Properties.Slope == nil || f.Properties.Key == "" {
			t.Fatalf("%s: a zone without a slope or a key: %+v", file, f.Properties)
		}
		out[f.Properties.Key] = *f.Properties.Slope
	}
	return out
}

// gdalSlopes asks gdaldem for the mean slope of the cells of each zone; nil where it is not installed.
func gdalSlopes(t *testing.T, zones []nad27Zone) []float64 {
	t.Helper()
	tool, err := exec.LookPath("gdaldem")
	if err != nil {
		return nil
	}
	raw := filepath.Join(t.TempDir(), "raw")
	if out, err := exec.Command(tool, "slope", nad27Heights, raw, "-of", "ENVI", "-q", "-p", "-s", "3.280839895013123").CombinedOutput(); err != nil {
		t.Fatalf("%v %s", err, out)
	}
	b, err := os.ReadFile(raw)
	if err != nil {
		t.Fatal(err)
	}
	var out []float64
	for _, z := range zones {
		sum := 0.0
		for row := 120; row < 200; row++ {
			for col := z.col; col < z.col+40; col++ {
				sum += float64(math.Float32frombits(binary.LittleEndian.Uint32(b[4*(row*416+col):])))
			}
		}
		out = append(out, sum/(80*40))
	}
	return out
}

// A boundary on NAD27 stops the run with one sentence; nothing is cut ten metres beside the farm.
func TestBoundaryOnNAD27IsRefused(t *testing.T) {
	dir := t.TempDir()
	must(t, exitDone, "demo", "--out", dir+"/demo")
	said := leftNothing(t, exitCould, dir+"/run", "screen", dir+"/demo/fields.geojson", "--survey", dir+"/demo/survey", "--crs", "EPSG:4267", "--out", dir+"/run")
	if strings.Count(strings.TrimSpace(said), "\n") > 0 || !strings.Contains(said, "fields.geojson: coordinate system \"NAD27\" (EPSG:4267) stands on NAD27") || !strings.Contains(said, "convert the file to EPSG:4326 by a transformation with a grid of shifts") {
		t.Errorf("it says:\n%s", said)
	}
}

// leftNothing runs a command line that must end with an exit code and leave no run behind, and returns what it said on the
// second stream.
func leftNothing(t *testing.T, want int, out string, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if code := run(context.Background(), args, stdio{nil, &stdout, &stderr}); code != want {
		t.Errorf("rootworthy %v: exit code %d, want %d\n%s%s", args, code, want, &stdout, &stderr)
	}
	if _, err := os.Stat(out); err == nil {
		t.Errorf("rootworthy %v: %s was written all the same", args, out)
	}
	return stderr.String()
}
