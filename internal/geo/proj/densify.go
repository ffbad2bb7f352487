package proj

import (
	"math"

	"github.com/paulmach/orb"
)

// maxSagitta is how far, in metres, an edge that is straight in longitude and latitude may lie from the straight line
// between its projected ends: a quarter of a millimetre. An area is then off by at most 2/3 of that times the perimeter,
// which stays under a millionth of the area down to fields of some hundred metres across.
const maxSagitta = 0.25e-3

// maxBisections ends the halving of one edge: 4,096 pieces, enough for 700 km at 50 degrees. It keeps a single wild
// edge affordable; maxInserted keeps many of them so.
const maxBisections = 12

const meanRadius = 6371008.8 // m; IUGG mean radius, (2a + b) / 3 of GRS80

// Densify returns the ring, in degrees, with vertices inserted where an edge that is straight in longitude and latitude
// would bend in an equal-area plane by more than a quarter of a millimetre. An edge is halved as long as
//
//	1.2 L² max(tan |lat|, 0.7) / (8 R) > 0.25 mm
//
// L its length, lat its middle. L² tan(lat) / (8 R) is the sagitta of an edge along a parallel in a plane centred
// nearby; slanting edges bend up to 1.2 times as much, and EPSG:5070 bends southern parallels as if they lay at 35
// degrees (tan 0.7).
//
// The rule looks at the edge alone, alike from both ends, so neighbours that share an edge get the same vertices.
// The ring itself is returned when nothing is to be inserted. A ring so absurd that it would need more than
// 262,144 vertices keeps its own and gets no more than that; [Plane.AppendForward] refuses it.
func Densify(ring orb.Ring) orb.Ring {
	for i := 1; i < len(ring); i++ {
		if bends(ring[i-1], ring[i]) {
			return densified(ring)
		}
	}
	return ring
}

func densified(ring orb.Ring) orb.Ring {
	out := make(orb.Ring, 0, 2*len(ring))
	room := len(ring) + maxInserted
	for i, v := range ring {
		if i > 0 {
			out = appendMiddles(out, ring[i-1], v, room, 0)
		}
		out = append(out, v)
	}
	return out
}

func appendMiddles(dst orb.Ring, a, b orb.Point, room, depth int) orb.Ring {
	if depth == maxBisections || len(dst) >= room || !bends(a, b) {
		return dst
	}
	m := middle(a, b)
	dst = append(appendMiddles(dst, a, m, room, depth+1), m)
	return appendMiddles(dst, m, b, room, depth+1)
}

// middle is the same point, to the last bit, for a, b and for b, a.
func middle(a, b orb.Point) orb.Point {
	return orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
}

// bends applies the rule of [Densify]. Every term is symmetric in a and b. NaN does not bend.
func bends(a, b orb.Point) bool {
	dx, dy, lat := math.Abs(a[0]-b[0]), math.Abs(a[1]-b[1]), math.Abs(a[1]+b[1])/2
	if dx+dy < 1.4e-3 && lat < 60 { // at most 156 m: nearly every survey edge leaves here
		return false
	}
	sin, cos := math.Sincos(math.Min(lat, 89) * degree)
	dx *= cos * degree * meanRadius
	dy *= degree * meanRadius
	return 1.2*(dx*dx+dy*dy)*math.Max(sin/cos, 0.7) > 8*meanRadius*maxSagitta
}
