package proj

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestOtherAspects holds southern cones, polar and equatorial planes and southern oblique lines to PROJ 9.1.1 (computed with
// cs2cs -f %.6f from longitude and latitude on the same ellipsoid), at 140 E 25 S and 120 E 10 N.
func TestOtherAspects(t *testing.T) {
	intl := newEllipsoid(6378388, 297) // International 1924, EPSG ellipsoid 7022
	hotine := parameters{lat0: -20, lon0: 130, azimuth: 60, gamma: 45, k0: 0.9998}
	for _, c := range []struct {
		name           string
		el             ellipsoid
		method         method
		par            parameters
		x1, y1, x2, y2 float64
	}{
		{"southern Albers", grs80(), methodAlbers, parameters{lat0: -30, lon0: 132, sp1: -18, sp2: -36, k0: 1},
			797850.965738, 535761.077375, -1541331.919039, 4172377.772254},
		{"southern Lambert", grs80(), methodLCC2, parameters{lat0: -32, lon0: 135, sp1: -28, sp2: -36, k0: 1},
			507046.395064, 764092.040253, -2109916.172853, 4914590.292588},
		{"north polar", wgs84(), methodLAEA, parameters{lat0: 90, lon0: -40, k0: 1},
			0, 10740637.323362, 2802560.737878, 7699972.343969},
		{"south polar", wgs84(), methodLAEA, parameters{lat0: -90, k0: 1},
			4406619.189614, -5251604.250417, 8450518.144316, -4878908.925413},
		{"equatorial", wgs84(), methodLAEA, parameters{lon0: 20, k0: 1},
			9584563.558017, -5126221.683074, 9609517.221282, 1709038.370610},
		{"transverse Mercator", intl, methodTM, parameters{lat0: -40, lon0: 145, k0: 0.9999},
			-505136.004107, 1654016.533639, -2826789.351098, 5647432.245903},
		{"oblique B", grs80(), methodHotineB, hotine, 1132658.404454, -303399.569250, -2033205.572789, 3062909.824511},
		{"oblique A", grs80(), methodHotineA, hotine, -1690986.821589, -3127044.795292, -4856850.798831, 239264.598468},
		{"oblique B, eastward line", grs80(), methodHotineB, parameters{lat0: 4, lon0: 115, azimuth: 90, gamma: 90, k0: 0.9998},
			2878403.723938, -3304111.729231, 551088.028065, 666311.233900},
	} {
		p, ok := c.method.build(c.el, c.par)
		if !ok {
			t.Errorf("%s: parameters refused", c.name)
			continue
		}
		for _, q := range [][4]float64{{140, -25, c.x1, c.y1}, {120, 10, c.x2, c.y2}} {
			x, y, ok := p.forward(q[0]*degree, q[1]*degree)
			if !ok || math.Hypot(x-q[2], y-q[3]) > 1e-5 {
				t.Errorf("%s: %v %v → %.6f %.6f, %v, want %.6f %.6f", c.name, q[0], q[1], x, y, ok, q[2], q[3])
			}
			lon, lat, ok := p.inverse(x, y)
			if !ok || math.Abs(lon/degree-q[0]) > 1e-11 || math.Abs(lat/degree-q[1]) > 1e-11 {
				t.Errorf("%s: comes back as %v %v, %v", c.name, lon/degree, lat/degree, ok)
			}
		}
	}
}

// TestConstantsThatDefineNothing: constructors refuse what would divide by zero.
func TestConstantsThatDefineNothing(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		method method
		par    parameters
	}{
		"no method":            {methodUnknown, parameters{k0: 1}},
		"NaN meridian":         {methodTM, parameters{lon0: nan, k0: 1}},
		"NaN scale":            {methodTM, parameters{k0: nan}},
		"no scale":             {methodTM, parameters{}},
		"infinite false":       {methodTM, parameters{k0: 1, fe: math.Inf(1)}},
		"parallels cancel":     {methodAlbers, parameters{k0: 1, sp1: 30, sp2: -30}},
		"conformal cylinder":   {methodLCC2, parameters{k0: 1, sp1: 30, sp2: -30}},
		"equator":              {methodLCC1, parameters{k0: 1}},
		"parallel at the pole": {methodLCC2, parameters{k0: 1, sp1: 90, sp2: 45}},
		"oblique at the pole":  {methodHotineA, parameters{k0: 1, lat0: 90}},
		"web at a parallel":    {methodWebMercator, parameters{k0: 1, lat0: 10}},
	} {
		if p, ok := c.method.build(wgs84(), c.par); ok {
			t.Errorf("%s: %+v makes %+v", name, c.par, p)
		}
	}
}

// TestAnyLocalPlane: wherever the centre of an azimuthal plane, points within a quarter of the globe come back to 1e-9
// degrees of arc, poles' neighbourhoods left out.
func TestAnyLocalPlane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lon0, lat0 := rapid.IntRange(-180, 180).Draw(t, "lon0"), rapid.IntRange(-90, 90).Draw(t, "lat0")
		p, ok := newLambertAzimuthal(wgs84(), float64(lon0), float64(lat0))
		lon := rapid.Float64Range(-180, 180).Draw(t, "lon") * degree
		lat := rapid.Float64Range(-89.9, 89.9).Draw(t, "lat") * degree
		x, y, ok2 := p.forward(lon, lat)
		if !ok || !ok2 || math.Hypot(x, y) > 1e7 {
			return
		}
		lon2, lat2, ok := p.inverse(x, y)
		d := math.Hypot(math.Remainder(lon2-lon, 2*math.Pi)*math.Cos(lat), lat2-lat) / degree
		if !ok || !(d < 1e-9) {
			t.Fatalf("centre %d %d: %v %v comes back %g degrees off", lon0, lat0, lon/degree, lat/degree, d)
		}
	})
}
