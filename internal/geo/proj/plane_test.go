package proj

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func bound(w, s, e, n float64) orb.Bound {
	return orb.Bound{Min: orb.Point{w, s}, Max: orb.Point{e, n}}
}

// planarArea is the shoelace sum about the first vertex, always positive.
func planarArea(ring orb.Ring) float64 {
	sum := 0.0
	for i := 1; i < len(ring); i++ {
		a, b, o := ring[i-1], ring[i], ring[0]
		sum += (a[0]-o[0])*(b[1]-o[1]) - (b[0]-o[0])*(a[1]-o[1])
	}
	return math.Abs(sum) / 2
}

func TestPlaneFor(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		bound orb.Bound
		want  string
	}{
		"Arkansas":       {bound(-91.5, 33, -91, 33.6), "EPSG:5070"},
		"all lower 48":   {bound(-124.8, 24.4, -66.9, 49.4), "EPSG:5070"},
		"Alaska":         {bound(-149.5, 61.4, -148.9, 61.7), "EPSG:3338"},
		"Hawaii":         {bound(-156.1, 19.4, -155.4, 20.1), "Lambert azimuthal equal-area, WGS 84, centre -156 20"},
		"Puerto Rico":    {bound(-67, 18, -66, 18.4), "Lambert azimuthal equal-area, WGS 84, centre -67 18"},
		"across borders": {bound(-100, 48, -98, 51), "Lambert azimuthal equal-area, WGS 84, centre -99 50"},
		"whole Earth":    {bound(-180, -90, 180, 90), "Lambert azimuthal equal-area, WGS 84, centre 0 0"},
		"empty":          {bound(1, 1, -1, -1), "EPSG:5070"},
		"NaN":            {bound(nan, nan, nan, nan), "EPSG:5070"},
		"no place":       {bound(-1e6, 4e6, 0, 5e6), "EPSG:5070"},
	} {
		if got := PlaneFor(c.bound).String(); got != c.want {
			t.Errorf("%s: PlaneFor = %s, want %s", name, got, c.want)
		}
	}
}

// TestNationalPlanesAreTheirCodes: the two planes give exactly what the codes give.
func TestNationalPlanesAreTheirCodes(t *testing.T) {
	for code, b := range map[int]orb.Bound{5070: bound(-100, 30, -90, 40), 3338: bound(-150, 60, -149, 61)} {
		plane, crs := PlaneFor(b), mustEPSG(t, code)
		for _, p := range []orb.Point{b.Min, b.Max, b.Center()} {
			got, _ := plane.Forward(p)
			want, _ := crs.FromLonLat(p)
			if got != want {
				t.Errorf("%s Forward(%v) = %v, want %v as EPSG:%d", plane, p, got, want, code)
			}
		}
	}
}

func mustEPSG(t testing.TB, code int) CRS {
	t.Helper()
	crs, err := FromEPSG(code)
	if err != nil {
		t.Fatal(err)
	}
	return crs
}

// planes are the three kinds, each with a bound to draw from.
func planes() []struct {
	plane Plane
	from  orb.Bound
} {
	return []struct {
		plane Plane
		from  orb.Bound
	}{
		{PlaneFor(bound(-124, 25, -67, 49)), bound(-124, 25, -67, 49)},
		{PlaneFor(bound(-168, 54, -130, 71)), bound(-168, 54, -130, 71)},
		{PlaneFor(bound(-160, 18, -154, 23)), bound(-160, 18, -154, 23)},
		{PlaneFor(bound(5, 44, 11, 48)), bound(5, 44, 11, 48)},
	}
}

// TestPlaneAreasAreGeodesic: any quadrilateral of field to township size, its edges straight in longitude and latitude,
// has the same area in the plane as on the ellipsoid, to 1e-8 and 0.01 m² (what edges within a millimetre leave).
func TestPlaneAreasAreGeodesic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(planes()).Draw(t, "plane")
		size := rapid.Float64Range(0.001, 0.03).Draw(t, "size")
		at := orb.Point{rapid.Float64Range(c.from.Min[0], c.from.Max[0]).Draw(t, "lon"), rapid.Float64Range(c.from.Min[1], c.from.Max[1]).Draw(t, "lat")}
		part := rapid.Float64Range(0.2, 1)
		ring := orb.Ring{at, {at[0] + size*part.Draw(t, "e"), at[1]}, {at[0] + size*part.Draw(t, "ne"), at[1] + size*part.Draw(t, "n")}, at}
		flat, err := c.plane.ForwardMultiPolygon(orb.MultiPolygon{{ring}}, true)
		want, ok := GeodesicArea(orb.MultiPolygon{{ring}}, GeodesicOptions{Step: 50})
		if err != nil || !ok {
			t.Fatal(err, ok)
		}
		// An edge may bulge by 2/3 of a millimetre over its whole length.
		perimeter := 4 * size * degree * meanRadius
		if got := planarArea(flat[0][0]); !(math.Abs(got-want) < 1e-9*want+1e-3*perimeter) {
			t.Fatalf("%s: %v has %.4f m² in the plane, %.4f m² on the ellipsoid", c.plane, ring, got, want)
		}
	})
}

// TestPlaneRoundTrip: rings come back within 1e-9 degrees, inserted vertices and all.
func TestPlaneRoundTrip(t *testing.T) {
	for _, c := range planes() {
		b := c.from
		ring := orb.Ring{b.Min, {b.Max[0], b.Min[1]}, b.Max, {b.Min[0], b.Max[1]}, b.Min}
		flat, err := c.plane.ForwardMultiPolygon(orb.MultiPolygon{{ring, ring[:0]}, {}}, true)
		if err != nil {
			t.Fatal(err)
		}
		back, err := c.plane.InverseMultiPolygon(flat)
		if err != nil {
			t.Fatal(err)
		}
		want := Densify(ring)
		if len(back[0][0]) != len(want) || len(back) != 2 || len(back[0][1]) != 0 {
			t.Fatalf("%s: %d vertices come back, want %d", c.plane, len(back[0][0]), len(want))
		}
		for i, p := range back[0][0] {
			if !(math.Abs(p[0]-want[i][0]) < 1e-9 && math.Abs(p[1]-want[i][1]) < 1e-9) {
				t.Fatalf("%s: vertex %d comes back as %v, want %v", c.plane, i, p, want[i])
			}
		}
	}
}

// TestDensifyKeepsEdgesStraight measures the rule: after densifying, no edge over the lower 48, Alaska or Hawaii bends by
// more than a millimetre in its plane.
func TestDensifyKeepsEdgesStraight(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(planes()).Draw(t, "plane")
		a := orb.Point{rapid.Float64Range(c.from.Min[0], c.from.Max[0]).Draw(t, "lon"), rapid.Float64Range(c.from.Min[1], c.from.Max[1]).Draw(t, "lat")}
		turn, long := rapid.Float64Range(0, 7).Draw(t, "turn"), rapid.Float64Range(1e-4, 0.05).Draw(t, "length")
		b := orb.Point{a[0] + long*math.Cos(turn), a[1] + long*math.Sin(turn)}
		ring := Densify(orb.Ring{a, b})
		for i := 1; i < len(ring); i++ {
			p, _ := c.plane.Forward(ring[i-1])
			q, _ := c.plane.Forward(ring[i])
			m, _ := c.plane.Forward(middle(ring[i-1], ring[i]))
			off := math.Abs((q[0]-p[0])*(m[1]-p[1])-(q[1]-p[1])*(m[0]-p[0])) / math.Hypot(q[0]-p[0], q[1]-p[1])
			worst = math.Max(worst, off)
			if !(off < 1e-3) {
				t.Fatalf("%s: edge %v to %v bends by %.3g m", c.plane, ring[i-1], ring[i], off)
			}
		}
	})
	t.Logf("edges bend by at most %.2g m", worst)
}

// TestDensifyDependsOnTheEdgeAlone: walked from either end, and in whatever ring, an edge gets the same vertices.
func TestDensifyDependsOnTheEdgeAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pt := rapid.Custom(func(t *rapid.T) orb.Point {
			return orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-90, 90).Draw(t, "lat")}
		})
		a := pt.Draw(t, "a")
		b := orb.Point{a[0] + rapid.Float64Range(-0.1, 0.1).Draw(t, "dlon"), a[1] + rapid.Float64Range(-0.1, 0.1).Draw(t, "dlat")}
		there, back := Densify(orb.Ring{a, b}), Densify(orb.Ring{b, a})
		slices.Reverse(back)
		if !slices.Equal(there, back) {
			t.Fatalf("%v to %v: %d vertices there, %d back, or others", a, b, len(there), len(back))
		}
	})
}

// TestDensifyLeavesShortEdges: a ring without long edges is returned itself; 200 m of a parallel get one vertex.
func TestDensifyLeavesShortEdges(t *testing.T) {
	short := orb.Ring{{-93, 42}, {-92.9995, 42}, {-92.9995, 42.0005}, {-93, 42}}
	if got := Densify(short); &got[0] != &short[0] {
		t.Errorf("Densify copied a ring that needs nothing: %v", got)
	}
	long := Densify(orb.Ring{{-93, 45}, {-93 + 200/(111195*math.Sqrt(0.5)), 45}})
	if len(long) != 3 {
		t.Errorf("200 m at 45 N: %d vertices, want 3: %v", len(long), long)
	}
}

// TestWildRings: points off the Earth and edges round it are refused by vertex, with bounded memory.
func TestWildRings(t *testing.T) {
	plane := PlaneFor(bound(-100, 30, -90, 40))
	wild := orb.Ring{}
	for range 3000 {
		wild = append(wild, orb.Point{-179, -80}, orb.Point{179, 80})
	}
	for name, c := range map[string]struct {
		ring orb.Ring
		says string
	}{
		"swapped":  {orb.Ring{{-93, 42}, {42, -93}}, "part 1, ring 1, vertex 2 (42 -93)"},
		"NaN":      {orb.Ring{{math.NaN(), 42}}, "vertex 1"},
		"infinite": {orb.Ring{{-93, math.Inf(1)}}, "vertex 1"},
		"round it": {wild, "hundreds of thousands of vertices"},
	} {
		if _, err := plane.ForwardMultiPolygon(orb.MultiPolygon{{c.ring}}, true); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: error %v does not say %q", name, err, c.says)
		}
	}
	if _, err := plane.InverseMultiPolygon(orb.MultiPolygon{{{{1e9, 1e9}}}}); err == nil {
		t.Error("a point a million kilometres away came back to Earth")
	}
	if got := Densify(wild); len(got) > 2*len(wild)+maxInserted || len(got) < len(wild) {
		t.Errorf("Densify made %d vertices of %d wild ones", len(got), len(wild))
	}
	var none Plane
	if _, ok := none.Forward(orb.Point{-93, 42}); ok {
		t.Error("the zero plane took a point")
	}
	if _, ok := none.Inverse(orb.Point{0, 0}); ok {
		t.Error("the zero plane gave a point")
	}
}

// TestAppendForwardAllocatesNothing: a county's rings go through one buffer.
func TestAppendForwardAllocatesNothing(t *testing.T) {
	plane, ring := PlaneFor(bound(-100, 30, -90, 40)), circle(orb.Point{-93, 42}, 0.05, 500)
	buf := make(orb.Ring, 0, 8*len(ring))
	if n := testing.AllocsPerRun(10, func() { buf, _, _ = plane.AppendForward(buf[:0], ring, true) }); n != 0 {
		t.Errorf("AppendForward allocates %v times a ring", n)
	}
}

// circle is a closed ring of n edges.
func circle(at orb.Point, radius float64, n int) orb.Ring {
	ring := make(orb.Ring, 0, n+1)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		ring = append(ring, orb.Point{at[0] + radius*cos, at[1] + radius*sin})
	}
	return append(ring, ring[0])
}
