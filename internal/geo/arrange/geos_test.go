package arrange

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/jonas-p/go-shp"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"

	"rootworthy/internal/geo"
)

// verdict is what GEOS says of one case, in the order of testdata/geos_makevalid.c.
type verdict struct {
	drawnValid, valid  int
	parts, holes       int
	area               float64
	ourParts, ourHoles int
	ourArea, apart     float64
}

// askGEOS compares our repaired geometries with those GEOS makes of the drawn ones. It skips the test where GEOS or a C compiler
// is not installed.
func askGEOS(t *testing.T, drawn, made []orb.MultiPolygon) []verdict {
	t.Helper()
	bin := filepath.Join(t.TempDir(), "geos_makevalid")
	if out, err := exec.Command("cc", "-O1", "-o", bin, "testdata/geos_makevalid.c", "-lgeos_c").CombinedOutput(); err != nil {
		t.Skipf("needs a C compiler and libgeos-dev: %v\n%.200s", err, out)
	}
	var in bytes.Buffer
	for i := range drawn {
		fmt.Fprintf(&in, "%s %s\n", wkbHex(t, drawn[i]), wkbHex(t, made[i]))
	}
	cmd := exec.Command(bin)
	cmd.Stdin = &in
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(drawn) {
		t.Fatalf("%d answers for %d cases", len(lines), len(drawn))
	}
	vs := make([]verdict, len(lines))
	for i, l := range lines {
		v := &vs[i]
		if _, err := fmt.Sscan(l, &v.drawnValid, &v.valid, &v.parts, &v.holes, &v.area, &v.ourParts, &v.ourHoles, &v.ourArea, &v.apart); err != nil {
			t.Fatal(l, err)
		}
	}
	return vs
}

// wkbHex writes a geometry; one part as a polygon, as it was drawn.
func wkbHex(t *testing.T, mp orb.MultiPolygon) string {
	t.Helper()
	var g orb.Geometry = mp
	b, err := wkb.Marshal(g)
	if err != nil {
		t.Fatal(err)
	}
	return hex.EncodeToString(b)
}

// TestRepairedFieldsAsGEOS repairs three real field boundaries whose rings touch themselves.
func TestRepairedFieldsAsGEOS(t *testing.T) {
	data, err := os.ReadFile("../../../../shared/data/fields-sc/fields_EPSG4326.geojson")
	if err != nil {
		t.Skip("needs the crop sequence boundaries of ../shared/data/fields-sc: ", err)
	}
	var fc struct {
		Features []struct {
			Geometry struct{ Coordinates orb.MultiPolygon }
		}
	}
	if err := json.Unmarshal(data, &fc); err != nil {
		t.Fatal(err)
	}
	var drawn, made []orb.MultiPolygon
	for i, f := range fc.Features {
		mp := f.Geometry.Coordinates
		fixed, rep := Repair(mp, 1e-10)
		if bad := i == 2 || i == 17 || i == 23; rep.Rebuilt != bad || bad && rep.SelfTouching == 0 {
			t.Errorf("field %d: report %+v", i, rep)
		}
		if math.Abs(rep.AreaAfter-rep.AreaBefore) > 1e-6*rep.AreaBefore {
			t.Errorf("field %d: area changed from %g to %g", i, rep.AreaBefore, rep.AreaAfter)
		}
		drawn, made = append(drawn, mp), append(made, fixed)
	}
	for i, v := range askGEOS(t, drawn, made) {
		if v.valid != 1 || v.parts != v.ourParts || v.holes != v.ourHoles || v.apart > 1e-6*v.area {
			t.Errorf("field %d: %+v", i, v)
		}
	}
}

// TestRepairedSurveyAsGEOS checks a whole survey area: one polygon touches itself in a vertex, all others are sound.
func TestRepairedSurveyAsGEOS(t *testing.T) {
	polys := surveyPolygons(t)
	bad := 0
	var drawn, made []orb.MultiPolygon
	for i, mp := range polys {
		fixed, rep := Repair(mp, 1e-9)
		if rep.Rebuilt {
			bad++
			drawn, made = append(drawn, mp), append(made, fixed)
			if i != 1610 || rep.SelfTouching != 1 || math.Abs(rep.AreaAfter-rep.AreaBefore) > 1e-6*rep.AreaBefore {
				t.Errorf("record %d: report %+v", i, rep)
			}
		}
	}
	if bad != 1 {
		t.Errorf("%d records rebuilt, want 1", bad)
	}
	for i, v := range askGEOS(t, drawn, made) {
		if v.valid != 1 || v.parts != v.ourParts || v.holes != v.ourHoles || v.apart > 1e-6*v.area {
			t.Errorf("case %d: %+v", i, v)
		}
	}
}

// surveyPolygons reads the map unit polygons of a survey area. A record's rings are sorted into parts by their
// direction, clockwise rings being outer ones.
func surveyPolygons(t testing.TB) (polys []orb.MultiPolygon) {
	t.Helper()
	r, err := shp.Open("../../../../shared/data/ssurgo-ar017/spatial/soilmu_a_ar017.shp")
	if err != nil {
		t.Skip("needs the soil survey of ../shared/data/ssurgo-ar017: ", err)
	}
	defer r.Close()
	for r.Next() {
		_, s := r.Shape()
		p := s.(*shp.Polygon)
		var rings orb.Polygon
		for k, start := range p.Parts {
			end := p.NumPoints
			if k+1 < len(p.Parts) {
				end = p.Parts[k+1]
			}
			var ring orb.Ring
			for _, pt := range p.Points[start:end] {
				ring = append(ring, orb.Point{pt.X, pt.Y})
			}
			rings = append(rings, ring)
		}
		polys = append(polys, orb.MultiPolygon{rings})
	}
	return polys
}

// TestRandomAsGEOS compares the even-odd rebuild with GEOS where crossings are on the grid, so that both are exact.
// Drawings in which lines run along each other are left out: GEOS takes two such lines for one, so a hole equal to its shell
// is forgotten, while for us the even-odd rule holds there too.
func TestRandomAsGEOS(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	var drawn, made []orb.MultiPolygon
	for len(drawn) < 3000 {
		var rings [][]geo.Pt
		for range 1 + r.IntN(3) {
			rings = append(rings, diagonalWalk(r, 6))
		}
		rings = rings[:1+r.IntN(len(rings))]
		if runsAlong(rings) {
			continue
		}
		valid := EvenOdd(rings)
		drawn = append(drawn, ToOrb([]Polygon{rings}, 1))
		made = append(made, ToOrb(valid, 1))
	}
	for i, v := range askGEOS(t, drawn, made) {
		if v.valid != 1 || v.parts != v.ourParts || v.holes != v.ourHoles || v.apart != 0 {
			t.Errorf("case %d: drawn %v, made %v: %+v", i, drawn[i], made[i], v)
			if t.Failed() && i > 50 {
				break
			}
		}
	}
}

// TestCheckAsGEOS compares Check with GEOSisValid on drawings that nearly all touch themselves somewhere. GEOS allows
// repeated points and any direction.
func TestCheckAsGEOS(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	var drawn, none []orb.MultiPolygon
	var ours []Finding
	for len(drawn) < 4000 {
		side := 2 + r.Int64N(8)
		var p [][]geo.Pt
		for range 1 + r.IntN(3) {
			var ring []geo.Pt
			for range 3 + r.IntN(4) {
				ring = append(ring, geo.Pt{X: r.Int64N(side), Y: r.Int64N(side)})
			}
			p = append(p, ring)
		}
		if r.IntN(2) == 0 { // valid parts taken for one polygon: half of them are
			var flat [][]geo.Pt
			for _, q := range EvenOdd(p) {
				flat = append(flat, q...)
			}
			p = flat
		}
		f := Check(p)
		if f.Kind == Repeated || f.Kind == Empty {
			continue
		}
		drawn, none, ours = append(drawn, closed([]Polygon{p})), append(none, orb.MultiPolygon{}), append(ours, f)
	}
	sound := 0
	for i, v := range askGEOS(t, drawn, none) {
		ok := ours[i].OK() || ours[i].Kind == Direction
		if ok != (v.drawnValid == 1) {
			t.Errorf("%v: Check says %v, GEOS %d", drawn[i], ours[i].Kind, v.drawnValid)
		}
		sound += v.drawnValid
	}
	if sound < 500 || sound > 3500 {
		t.Errorf("%d of %d drawings are valid: a lopsided test", sound, len(drawn))
	}
}

// diagonalWalk returns a closed walk along X, Y and diagonals of cells of 2×2 units.
func diagonalWalk(r *rand.Rand, cells int64) []geo.Pt {
	p := geo.Pt{X: 2 * r.Int64N(cells+1), Y: 2 * r.Int64N(cells+1)}
	ring := []geo.Pt{p}
	for range 3 + r.IntN(8) {
		n := 2 * (1 + r.Int64N(cells))
		q := geo.Pt{X: p.X + n*(r.Int64N(3)-1), Y: p.Y + n*(r.Int64N(3)-1)}
		if q != p && q.X >= 0 && q.Y >= 0 && q.X <= 2*cells && q.Y <= 2*cells {
			p = q
			ring = append(ring, p)
		}
	}
	if at := (geo.Pt{X: ring[0].X, Y: p.Y}); at != p && at != ring[0] {
		ring = append(ring, at)
	}
	for len(ring) < 3 { // GEOS wants four points with the closing one
		ring = append(ring, ring[0])
	}
	return ring
}

// runsAlong says whether two edges share a stretch.
func runsAlong(rings [][]geo.Pt) bool {
	var edges [][2]geo.Pt
	for _, r := range rings {
		for k, a := range r {
			if b := r[(k+1)%len(r)]; a != b {
				edges = append(edges, [2]geo.Pt{a, b})
			}
		}
	}
	for i, e := range edges {
		for _, f := range edges[:i] {
			if n, _ := slowMeet(e[0], e[1], f[0], f[1]); n == 2 && geo.Orient(e[0], e[1], f[0]) == 0 && geo.Orient(e[0], e[1], f[1]) == 0 {
				return true
			}
		}
	}
	return false
}
