package web

import (
	"slices"

	"github.com/paulmach/orb"
)

// lines is how many lines are drawn through a shape to look for room.
const lines = 9

// innerPoint returns a point inside a shape and off its holes, where there is room for a letter: the middle of the
// widest stretch, weighed by how far it lies from the top and bottom, that lines of equal latitude have in it.
func innerPoint(shape orb.MultiPolygon) orb.Point {
	if len(shape) == 0 {
		return orb.Point{}
	}
	polygon := slices.MaxFunc(shape, func(a, b orb.Polygon) int {
		x, y := a.Bound(), b.Bound()
		return compareArea(x, y)
	})
	box := polygon.Bound()
	best, room := box.Center(), -1.0
	for k := 1; k <= lines; k++ {
		t := float64(k) / (lines + 1)
		y := box.Min[1] + t*(box.Max[1]-box.Min[1])
		cuts := crossings(polygon, y)
		for i := 0; i+1 < len(cuts); i += 2 {
			if w := (cuts[i+1] - cuts[i]) * min(t, 1-t); w > room {
				best, room = orb.Point{(cuts[i] + cuts[i+1]) / 2, y}, w
			}
		}
	}
	return best
}

func compareArea(a, b orb.Bound) int {
	x, y := (a.Max[0]-a.Min[0])*(a.Max[1]-a.Min[1]), (b.Max[0]-b.Min[0])*(b.Max[1]-b.Min[1])
	switch {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

// crossings returns where a line of equal latitude enters and leaves a polygon, from west to east.
func crossings(polygon orb.Polygon, y float64) []float64 {
	var out []float64
	for _, ring := range polygon {
		for i := 0; i+1 < len(ring); i++ {
			a, b := ring[i], ring[i+1]
			if (a[1] <= y) != (b[1] <= y) {
				out = append(out, a[0]+(b[0]-a[0])*(y-a[1])/(b[1]-a[1]))
			}
		}
	}
	slices.Sort(out)
	return out
}
