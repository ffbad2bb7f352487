package interp

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Sample is a value at a place of the plane.
type Sample struct {
	At    orb.Point
	Value float64
}

// place puts samples in a fixed order, west to east, and melts those that lie within near of each other into their
// mean: two cores of one spot differ by chance, and without distance between them their weights have no meaning. It
// returns how many were melted away. An error names a sample without a place or value.
func place(samples []Sample, near float64) (points []Sample, melted int, err error) {
	for i, s := range samples {
		if !finite(s.At[0]) || !finite(s.At[1]) || !finite(s.Value) {
			return nil, 0, fmt.Errorf("sample %d (%v at %v, %v) has no place or value; leave it out", i+1, s.Value, s.At[0], s.At[1])
		}
	}
	points = slices.Clone(samples)
	slices.SortFunc(points, func(a, b Sample) int {
		return cmp.Or(cmp.Compare(a.At[0], b.At[0]), cmp.Compare(a.At[1], b.At[1]), cmp.Compare(a.Value, b.Value))
	})
	return melt(points, near)
}

func finite(v float64) bool { return v-v == 0 }

// melt joins points that hang together by steps of near at most.
func melt(points []Sample, near float64) ([]Sample, int, error) {
	n := len(points)
	of := make([]int, n)
	for i := range of {
		of[i] = i
	}
	root := func(i int) int {
		for of[i] != i {
			of[i] = of[of[i]]
			i = of[i]
		}
		return i
	}
	for i := range points {
		// sorted from west to east, so the walk may end
		for j := i + 1; j < n && points[j].At[0]-points[i].At[0] <= near; j++ {
			if distance(points[i].At, points[j].At) <= near {
				a, b := root(i), root(j)
				// the westernmost of a group stands for it
				of[max(a, b)] = min(a, b)
			}
		}
	}
	count := make([]float64, n)
	sum := make([]Sample, n)
	for i, p := range points {
		r := root(i)
		count[r]++
		// from the first of the group: coordinates of a projection have seven digits before the point
		sum[r].At[0] += p.At[0] - points[r].At[0]
		sum[r].At[1] += p.At[1] - points[r].At[1]
		sum[r].Value += p.Value - points[r].Value
	}
	out := make([]Sample, 0, n)
	for i, p := range points {
		if c := count[i]; c > 0 { // sums of differences keep a single point to the last bit
			out = append(out, Sample{orb.Point{p.At[0] + sum[i].At[0]/c, p.At[1] + sum[i].At[1]/c}, p.Value + sum[i].Value/c})
		}
	}
	return out, n - len(out), nil
}

// distance neither overflows nor vanishes where squares would; points are melted by very small ones.
func distance(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// bounds returns the box of the points.
func bounds(points []Sample) orb.Bound {
	b := orb.Bound{Min: points[0].At, Max: points[0].At}
	for _, p := range points[1:] {
		b = b.Extend(p.At)
	}
	return b
}

// meanOf returns the mean and the variance (n - 1) of the values.
func meanOf(points []Sample) (mean, variance float64) {
	first := points[0].Value
	for _, p := range points { // differences, so that equal values keep their last bit
		mean += (p.Value - first) / float64(len(points))
	}
	mean += first
	for _, p := range points {
		variance += (p.Value - mean) * (p.Value - mean)
	}
	return mean, variance / math.Max(1, float64(len(points)-1))
}

// allEqual tells whether every value is the same.
func allEqual(points []Sample) bool {
	return !slices.ContainsFunc(points, func(p Sample) bool { return p.Value != points[0].Value })
}
