package overlay

import (
	"bytes"
	"encoding/binary"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
)

// geosAreas lets GEOS cut the fields with the survey and returns area and number of pieces (of at least 0.01 m²) of
// each. It needs a C compiler, libgeos-dev, and the benchmark's program for GEOS.
func geosAreas(t *testing.T, survey, fields []orb.MultiPolygon) (areas []float64, pieces []uint32) {
	t.Helper()
	source := filepath.Join(dataDir, "../bench/peers/geos/geos_peer.c")
	if _, err := os.Stat(source); err != nil {
		t.Skipf("no %s", source)
	}
	dir := t.TempDir()
	bin := filepath.Join(dir, "geos_peer")
	if out, err := exec.Command("cc", "-O1", "-o", bin, source, "-lgeos_c", "-lm").CombinedOutput(); err != nil {
		t.Skipf("needs a C compiler and libgeos-dev: %v\n%.200s", err, out)
	}
	write := func(name string, shapes []orb.MultiPolygon) string {
		var b bytes.Buffer
		b.WriteString("RWPOLYS1")
		binary.Write(&b, binary.LittleEndian, []uint32{uint32(len(shapes)), 0})
		for i, s := range shapes {
			raw, err := wkb.Marshal(s, binary.LittleEndian)
			if err != nil {
				t.Fatal(err)
			}
			binary.Write(&b, binary.LittleEndian, []uint32{uint32(i), uint32(len(raw))})
			b.Write(raw)
		}
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	result := filepath.Join(dir, "areas")
	cmd := exec.Command(bin, "--coverage", write("survey", survey), "--fields", write("fields", fields), "--areas", result)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	raw, err := os.ReadFile(result)
	if err != nil {
		t.Fatal(err)
	}
	for ; len(raw) >= 12; raw = raw[12:] {
		areas = append(areas, math.Float64frombits(binary.LittleEndian.Uint64(raw)))
		pieces = append(pieces, binary.LittleEndian.Uint32(raw[8:]))
	}
	return areas, pieces
}

// compareWithGEOS checks areas to 0.1 m² or 1e-6, which is what rounding to a tenth of a millimetre may change, and
// that piece counts are equal.
func compareWithGEOS(t *testing.T, survey, fields []orb.MultiPolygon) {
	t.Helper()
	areas, pieces := geosAreas(t, survey, fields)
	for i, cut := range runAll(t, coverageOf(t, survey, make([]uint32, len(survey))), fields, Options{}) {
		if got := total(cut); math.Abs(got-areas[i]) > max(0.1, 1e-6*areas[i]) {
			t.Errorf("field %d: %.4f m², GEOS has %.4f", i, got, areas[i])
		}
		if len(cut.Pieces) != int(pieces[i]) {
			t.Errorf("field %d: %d pieces, GEOS has %d", i, len(cut.Pieces), pieces[i])
		}
	}
}

// TestAgainstGEOSReal cuts 300 made fields with the real survey AR017.
func TestAgainstGEOSReal(t *testing.T) {
	survey, _ := shapefile(t, needData(t, "ssurgo-ar017/spatial/soilmu_a_ar017.shp"))
	rnd := rand.New(rand.NewPCG(*seed, 3))
	var fields []orb.MultiPolygon
	for range 300 {
		s := survey[rnd.IntN(len(survey))][0][0]
		fields = append(fields, randomField(rnd, s[rnd.IntN(len(s))]))
	}
	compareWithGEOS(t, survey, fields)
}

// TestAgainstGEOSRandom cuts made fields with made overlapping polygons.
func TestAgainstGEOSRandom(t *testing.T) {
	rnd := rand.New(rand.NewPCG(*seed, 4))
	var survey, fields []orb.MultiPolygon
	for range 200 {
		survey = append(survey, randomField(rnd, orb.Point{rnd.Float64() * 5000, rnd.Float64() * 5000}))
		fields = append(fields, randomField(rnd, orb.Point{rnd.Float64() * 5000, rnd.Float64() * 5000}))
	}
	compareWithGEOS(t, survey, fields)
}

// randomField is a rectangle askew, a circle, or a star with a hole.
func randomField(rnd *rand.Rand, centre orb.Point) orb.MultiPolygon {
	n, rough, hole := 4, 0.0, false
	switch rnd.IntN(3) {
	case 1:
		n = 180
	case 2:
		n, rough, hole = 10+rnd.IntN(50), 0.6, true
	}
	size, turn := 100+rnd.Float64()*500, rnd.Float64()
	ring := func(size, rough float64) (r orb.Ring) {
		for i := range n {
			x, y := unitCircle(turn + float64(i)/float64(n))
			k := size * (1 - rough*rnd.Float64())
			r = append(r, orb.Point{centre[0] + k*x, centre[1] + k*y})
		}
		return append(r, r[0])
	}
	part := orb.Polygon{ring(size, rough)}
	if hole {
		inner := ring(size*0.3, 0.3)
		for i, j := 0, len(inner)-1; i < j; i, j = i+1, j-1 {
			inner[i], inner[j] = inner[j], inner[i]
		}
		part = append(part, inner)
	}
	return orb.MultiPolygon{part}
}
