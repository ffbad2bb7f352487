package export

import (
	"math"

	"github.com/paulmach/orb"
)

// coordScale makes whole steps of 1e-7 degree (about 1 cm), the finest that a file holds.
const coordScale = 1e7

// Tidy returns a shape fit to be written: coordinates rounded to seven decimals first, then repeated points dropped,
// rings of no area dropped, outer rings counter-clockwise and holes clockwise (RFC 7946, section 3.1.6), rings closed
// bit for bit. A shape that vanishes is nil. Tidying twice changes nothing.
func Tidy(shape orb.MultiPolygon) orb.MultiPolygon {
	var out orb.MultiPolygon
	for _, polygon := range shape {
		var tidy orb.Polygon
		for i, ring := range polygon {
			r, area := tidyRing(ring)
			if area == 0 {
				if i == 0 {
					break // without its outer ring a polygon has no holes either
				}
				continue
			}
			// RFC 7946 asks for outer rings counter-clockwise; readers of before 2016 ignore it, and none is hurt by it.
			if (area > 0) != (i == 0) {
				reverse(r)
			}
			tidy = append(tidy, r)
		}
		if len(tidy) > 0 {
			out = append(out, tidy)
		}
	}
	return out
}

// tidyRing rounds a ring and drops repeated points. Twice the signed area is in steps squared; it is exact for rings up
// to some nine degrees across, and 0 for a ring that is not worth writing.
func tidyRing(ring orb.Ring) (tidy orb.Ring, area float64) {
	out := make(orb.Ring, 0, len(ring)+1)
	for _, p := range ring {
		q := orb.Point{math.Round(p[0]*coordScale) / coordScale, math.Round(p[1]*coordScale) / coordScale}
		// A sum is not a number as soon as one of the two is not; and infinity minus infinity is none either.
		if math.IsNaN(q[0]+q[1]) || math.IsInf(q[0]+q[1], 0) {
			return nil, 0
		}
		q[0], q[1] = q[0]+0, q[1]+0 // -0 becomes 0
		if len(out) == 0 || out[len(out)-1] != q {
			out = append(out, q)
		}
	}
	// The ring is opened first and closed again, so that it is closed bit for bit even if it was only nearly so.
	for len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	if len(out) < 3 {
		// Fewer than three corners surround nothing.
		return nil, 0
	}
	out = append(out, out[0])
	return out, signedArea(out)
}

// signedArea is twice the area in steps squared, positive counter-clockwise. It works with whole steps from the first
// point: products of coordinates themselves would lose the small areas between large numbers.
// The ring is closed, its first point repeated at the end.
func signedArea(ring orb.Ring) (area float64) {
	at := func(p orb.Point) (x, y float64) {
		return math.Round((p[0] - ring[0][0]) * coordScale), math.Round((p[1] - ring[0][1]) * coordScale)
	}
	for i := 1; i < len(ring); i++ {
		x0, y0 := at(ring[i-1])
		x1, y1 := at(ring[i])
		area += x0*y1 - x1*y0
	}
	return area
}

// reverse turns a closed ring around; its first and last point stay the same.
func reverse(r orb.Ring) {
	for i, j := 0, len(r)-1; i < j; i, j = i+1, j-1 {
		r[i], r[j] = r[j], r[i]
	}
}

// appendGeometry appends a tidy shape: null, a Polygon for one part, a MultiPolygon for several.
func appendGeometry(b []byte, shape orb.MultiPolygon) []byte {
	switch len(shape) {
	// Null and not an empty polygon: RFC 7946 lets a feature be unlocated, and readers trip over polygons without a ring.
	case 0:
		return append(b, "null"...)
	case 1:
		b = append(b, `{"type":"Polygon","coordinates":`...)
		b = appendPolygon(b, shape[0])
	default:
		b = append(b, `{"type":"MultiPolygon","coordinates":[`...)
		for i, p := range shape {
			if i > 0 {
				b = append(b, ',')
			}
			b = appendPolygon(b, p)
		}
		b = append(b, ']')
	}
	return append(b, '}')
}

// appendPolygon appends the rings of a polygon, outer ring first.
func appendPolygon(b []byte, polygon orb.Polygon) []byte {
	b = append(b, '[')
	for i, ring := range polygon {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(b, '[')
		for j, p := range ring {
			if j > 0 {
				b = append(b, ',')
			}
			b = appendPosition(b, p)
		}
		b = append(b, ']')
	}
	return append(b, ']')
}
