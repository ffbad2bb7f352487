package change

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/suitability"
)

// at is what a run has at a point, looked for zone by zone.
func at(r *suitability.Result, p orb.Point) Ground {
	for i := range r.Zones {
		if planar.MultiPolygonContains(r.Zones[i].Shape, p) {
			return Ground(i)
		}
	}
	for i := range r.Fields {
		if planar.MultiPolygonContains(r.Fields[i].Outside, p) {
			return Outside
		}
	}
	return Nowhere
}

// The slow and obvious twin: points thrown at random on a field fall into each pair as often as its area says, within five standard errors. One field a
// run, so that a point can only lie in one pair.
func TestPairsByPoints(t *testing.T) {
	const throws = 20000
	for n := range 6 {
		r := rand.New(rand.NewPCG(*seed, uint64(1000+n)))
		a, b := &suitability.Result{}, &suitability.Result{}
		lattice(r, "F", orb.Point{-91, 33}, 0.01, 1+r.IntN(3), a)
		lattice(r, "F", orb.Point{-91 + 0.004*r.Float64(), 33 - 0.004*r.Float64()}, 0.01, 1+r.IntN(3), b)
		around := a.Fields[0].Shape.Bound().Union(b.Fields[0].Shape.Bound())
		hits := map[[2]Ground]int{}
		thrown := 0
		for range throws {
			// Even on the ground: over a hundredth of a degree the width of a degree of longitude changes by less than 2 parts in ten thousand.
			p := orb.Point{around.Min[0] + r.Float64()*(around.Max[0]-around.Min[0]), around.Min[1] + r.Float64()*(around.Max[1]-around.Min[1])}
			if k := [2]Ground{at(a, p), at(b, p)}; k != [2]Ground{Nowhere, Nowhere} {
				hits[k]++
				thrown++
			}
		}
		var all float64
		c := mustCompare(t, a, b)
		pairs := map[[2]Ground]float64{}
		for i := range c.Fields {
			for _, p := range c.Fields[i].Pairs {
				pairs[[2]Ground{p.A, p.B}] += float64(p.Area)
				all += float64(p.Area)
			}
		}
		for k := range hits {
			if _, ok := pairs[k]; !ok {
				pairs[k] = 0
			}
		}
		for k, area := range pairs {
			want, got := area/all, float64(hits[k])/float64(thrown)
			if off := 5*math.Sqrt(want*(1-want)/float64(thrown)) + 5e-4; math.Abs(got-want) > off {
				t.Errorf("-seed %d, case %d: %v is %.4f of the ground, of the points %.4f", *seed, n, k, want, got)
			}
		}
	}
}
