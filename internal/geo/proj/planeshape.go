package proj

import (
	"errors"
	"fmt"

	"github.com/paulmach/orb"
)

// maxInserted bounds the vertices that densifying may add to one ring: 4 MB of points, or some 40,000 km of boundary in
// edges that are all too long. Survey polygons and fields stay far below; a ring that needs more has wrong coordinates.
const maxInserted = 1 << 18

// What is wrong with a vertex; the sentence begins with its place.
var (
	errOutside = errors.New("is not a longitude and latitude that the working plane can hold; " +
		"check the order of the coordinates and the coordinate system")
	errTooLong = errors.New("ends an edge so long that hundreds of thousands of vertices would be needed " +
		"to keep it straight; check the coordinates")
)

// AppendForward appends the plane's image of a ring of longitudes and latitudes to dst and returns it. With densify,
// edges are taken as straight in longitude and latitude, as in GeoJSON (RFC 7946), and get vertices inserted by the
// rule of [Densify] before they are projected; without, only the ring's own vertices are projected. bad is the index of the
// first vertex that has no place in the plane, or whose edge is absurdly long, with the reason in err; dst is then of
// no use. It allocates nothing beyond dst.
func (p Plane) AppendForward(dst, ring orb.Ring, densify bool) (out orb.Ring, bad int, err error) {
	room := len(dst) + len(ring) + maxInserted
	for i, v := range ring {
		from := len(dst)
		if densify && i > 0 {
			dst = appendMiddles(dst, ring[i-1], v, room, 0)
		}
		dst = append(dst, v)
		if len(dst) > room {
			return dst, i, errTooLong
		}
		for k, q := range dst[from:] {
			xy, ok := p.Forward(q)
			if !ok {
				return dst, i, errOutside
			}
			dst[from+k] = xy
		}
	}
	return dst, -1, nil
}

// ForwardMultiPolygon projects longitudes and latitudes into the plane, ring by ring as [Plane.AppendForward]. The
// error names the first vertex that has no place there.
func (p Plane) ForwardMultiPolygon(mp orb.MultiPolygon, densify bool) (orb.MultiPolygon, error) {
	return mapRings(mp, func(ring orb.Ring) (orb.Ring, int, error) {
		return p.AppendForward(make(orb.Ring, 0, len(ring)), ring, densify)
	})
}

// InverseMultiPolygon turns metres of the plane into longitude and latitude, vertex by vertex. Vertices that
// densifying inserted stay: whether one may go is not for one polygon to decide, as a neighbour may hold it as a
// corner, and a ring that drops it alone opens a sliver once coordinates are rounded. The error names the first vertex that is
// no image of a place on Earth.
func (p Plane) InverseMultiPolygon(mp orb.MultiPolygon) (orb.MultiPolygon, error) {
	return mapRings(mp, func(ring orb.Ring) (orb.Ring, int, error) {
		out := make(orb.Ring, len(ring))
		for i, v := range ring {
			lonLat, ok := p.Inverse(v)
			if !ok {
				return nil, i, errOutside
			}
			out[i] = lonLat
		}
		return out, -1, nil
	})
}

// mapRings applies f to every ring; f's bad vertex becomes part of the error.
func mapRings(mp orb.MultiPolygon, f func(orb.Ring) (orb.Ring, int, error)) (orb.MultiPolygon, error) {
	out := make(orb.MultiPolygon, len(mp))
	for i, poly := range mp {
		out[i] = make(orb.Polygon, len(poly))
		for j, ring := range poly {
			r, bad, err := f(ring)
			if err != nil {
				return nil, fmt.Errorf("part %d, ring %d, vertex %d (%v %v) %w", i+1, j+1, bad+1, ring[bad][0], ring[bad][1], err)
			}
			out[i][j] = r
		}
	}
	return out, nil
}
