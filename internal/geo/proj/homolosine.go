package proj

import (
	"math"
	"slices"
)

// homolosine is Goode's homolosine, interrupted over the oceans: twelve lobes, sinusoidal near the equator and Mollweide
// beyond 40°44'11.8", where the two have one scale. It is spherical: latitudes of the ellipsoid are taken as those of a
// sphere of its equatorial radius. Global soil grids come in it.
//
// Source: Snyder, USGS PP 1395, chapters 30 (sinusoidal, eqs. 30-1 to 30-6) and 31 (Mollweide, eqs. 31-1 to 31-8);
// Goode, Annals AAG 15 (1925), for the interruption; that a sphere of the equatorial radius is meant, and the bounds of
// the lobes, as PROJ 9.1.1 has it.
// Range: the whole earth; in the plane, the lobes and not the gaps between them.
type homolosine struct {
	r, lon0 float64
	down    float64 // how far the Mollweide lobes are moved towards the equator to fit, on the unit sphere
}

// lobe is a strip of longitudes with its own middle, in degrees.
type lobe struct{ west, east, middle float64 }

// lobesOf returns the lobes of a hemisphere.
func lobesOf(north bool) []lobe {
	if north {
		return []lobe{{-180, -40, -100}, {-40, 180, 30}}
	}
	return []lobe{{-180, -100, -160}, {-100, -20, -60}, {-20, 80, 20}, {80, 180, 140}}
}

// seam is the latitude where the projections meet.
const seam = (40 + 44.0/60 + 11.8/3600) * degree

func newHomolosine(el ellipsoid, lon0 float64) homolosine {
	_, y := mollweide(0, seam)
	return homolosine{el.a, lon0 * degree, y - seam}
}

// mollweide is the projection on the unit sphere.
func mollweide(lon, lat float64) (x, y float64) {
	theta := mollweideAngle(lat)
	return 2 * math.Sqrt2 / math.Pi * lon * math.Cos(theta), math.Sqrt2 * math.Sin(theta)
}

// mollweideAngle solves 2θ + sin 2θ = π sin φ. Newton's method slows down towards the poles, where the root is a triple
// one; 80 steps of it reach the last bit there too.
func mollweideAngle(lat float64) float64 {
	c := math.Pi * math.Sin(lat)
	t := lat // 2θ
	for range 80 {
		slope := 1 + math.Cos(t)
		if slope < 1e-14 {
			break
		}
		d := (t + math.Sin(t) - c) / slope
		t -= d
		if math.Abs(d) < 1e-15 {
			break
		}
	}
	return t / 2
}

func (p homolosine) forward(lon, lat float64) (x, y float64, ok bool) {
	lon = turn(lon - p.lon0)
	lobes := lobesOf(lat >= 0)
	i := slices.IndexFunc(lobes, func(l lobe) bool { return lon <= l.east*degree })
	if i < 0 {
		i = len(lobes) - 1 // 180 degrees and a rounding
	}
	middle := lobes[i].middle * degree
	if math.Abs(lat) <= seam {
		return p.r * (middle + (lon-middle)*math.Cos(lat)), p.r * lat, true
	}
	x, y = mollweide(lon-middle, lat)
	return p.r * (middle + x), p.r * (y - math.Copysign(p.down, lat)), true
}

func (p homolosine) inverse(x, y float64) (lon, lat float64, ok bool) {
	x, y = x/p.r, y/p.r
	scale := 0.0 // of longitudes at this height
	if math.Abs(y) <= seam {
		lat = y
		scale = math.Cos(lat)
	} else {
		sin := (y + math.Copysign(p.down, y)) / math.Sqrt2
		if !(math.Abs(sin) <= 1) {
			return 0, 0, false
		}
		theta := math.Asin(sin)
		lat = math.Asin(min(1, max(-1, (2*theta+math.Sin(2*theta))/math.Pi)))
		scale = 2 * math.Sqrt2 / math.Pi * math.Cos(theta)
	}
	const slack = 1e-10 // degrees: ground on the very edge of a lobe
	for _, l := range lobesOf(y >= 0) {
		if x < l.west*degree-1e-9 || x > l.east*degree+1e-9 {
			continue
		}
		lon = l.middle * degree
		if scale > 0 {
			lon += (x - lon) / scale
		}
		if lon >= (l.west-slack)*degree && lon <= (l.east+slack)*degree {
			return turn(lon + p.lon0), lat, true
		}
	}
	return 0, 0, false
}
