package sampling

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// parts splits points into n compact parts of about equal size and returns the points of each: the means of k-means on a
// lattice. It begins with points that lie far from each other, so that nothing is left to chance.
// Source: spatial coverage by compact strata, Walvoort, Brus & de Gruijter 2010, Computers & Geosciences 36,
// 1261–1267; from memory, not checked.
func parts(points []orb.Point, n int) [][]orb.Point {
	// points are of a lattice, so each stands for as much ground as any other
	means := farApart(points, n)
	var of []int
	// The bound is for shapes that would go to and fro between two splits for ever.
	for range 30 {
		next, moved := nearest(points, means, of)
		of = next
		if !moved {
			break
		}
		sums, counts := make([]orb.Point, n), make([]float64, n)
		for i, p := range points {
			sums[of[i]][0] += p[0]
			sums[of[i]][1] += p[1]
			counts[of[i]]++
		}
		for k := range means {
			// A part that nothing is nearest to keeps its place rather than go to 0, 0.
			if counts[k] > 0 {
				means[k] = orb.Point{sums[k][0] / counts[k], sums[k][1] / counts[k]}
			}
		}
	}
	out := make([][]orb.Point, n)
	for i, p := range points {
		out[of[i]] = append(out[of[i]], p)
	}
	return out
}

// nearest returns the nearest mean of every point, and whether that is another than before.
func nearest(points, means []orb.Point, before []int) (of []int, moved bool) {
	of = make([]int, len(points))
	for i, p := range points {
		best := math.Inf(1)
		for k, m := range means {
			// of equally near means the first, so that the split never hangs on chance
			if d := between(p, m); d < best {
				best, of[i] = d, k
			}
		}
		moved = moved || before == nil || before[i] != of[i]
	}
	return of, moved
}

// farApart picks n of the points: the first nearest to their middle, each next one farthest from those picked. n is at most the number of
// points; of equally far ones the first is taken.
func farApart(points []orb.Point, n int) []orb.Point {
	middle := middleOf(points)
	first := 0
	for i, p := range points {
		if between(p, middle) < between(points[first], middle) {
			first = i
		}
	}
	out := []orb.Point{points[first]}
	// from each point to the nearest of those picked
	far := make([]float64, len(points))
	for i, p := range points {
		far[i] = between(p, points[first])
	}
	for len(out) < n {
		at := 0
		for i := range far {
			if far[i] > far[at] {
				at = i
			}
		}
		out = append(out, points[at])
		for i, p := range points {
			far[i] = min(far[i], between(p, points[at]))
		}
	}
	return out
}

// middleOf is the mean; points is not empty.
func middleOf(points []orb.Point) (m orb.Point) {
	for _, p := range points {
		m[0] += p[0] / float64(len(points))
		m[1] += p[1] / float64(len(points))
	}
	return m
}

// cores returns the places of n cores spread over points: of each compact part the point nearest to its middle. The
// first ones lie far from each other, so that a subsoil bag may take only these.
func cores(points []orb.Point, n int) []orb.Point {
	var out []orb.Point
	for _, part := range parts(points, n) {
		if len(part) == 0 {
			continue
		}
		m, best := middleOf(part), 0
		for i, p := range part {
			// 1e-9 m: of points that are equally near the first one stays, whatever the last digit says.
			if between(p, m) < between(part[best], m)-1e-9 {
				best = i
			}
		}
		out = append(out, part[best])
	}
	for _, p := range farApart(points, n) { // a part may have come out empty
		if len(out) < n && !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	// all of them again, now in an order of which every beginning is spread
	return farApart(out, len(out))
}
