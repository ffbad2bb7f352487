package change

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/geo/proj"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

var seed = flag.Uint64("seed", 1, "of the random runs")

// made are two runs of fields that mostly lie on one another: each cut anew, some moved, some in one run alone.
func made(r *rand.Rand) (a, b *suitability.Result) {
	a, b = &suitability.Result{}, &suitability.Result{}
	for i := range 1 + r.IntN(4) {
		at, side := orb.Point{-91 + 0.02*float64(i), 33}, 0.002+0.01*r.Float64()
		id := fmt.Sprint("F", i)
		if r.IntN(6) > 0 {
			lattice(r, id, at, side, 1+r.IntN(4), a)
		}
		if r.IntN(3) == 0 { // a boundary that was drawn anew
			at[0] += side * (r.Float64() - 0.5)
			at[1] += side * (r.Float64() - 0.5)
		}
		if r.IntN(6) > 0 {
			lattice(r, id, at, side, 1+r.IntN(4), b)
		}
	}
	return a, b
}

// sumOf adds up the pairs in which a run has ground.
func (f *Fields) sumOf(run int) (all unit.Area) {
	for _, p := range f.Pairs {
		if run == 0 && p.A != Nowhere || run == 1 && p.B != Nowhere {
			all += p.Area
		}
	}
	return all
}

// All ground of both runs is in the pairs, once: of each field, and of each zone, to a millionth. The areas are measured here by another
// package, on shapes that no overlay has touched.
func TestGroundIsConserved(t *testing.T) {
	for n := range 60 {
		a, b := made(rand.New(rand.NewPCG(*seed, uint64(n))))
		c := mustCompare(t, a, b)
		for run, r := range []*suitability.Result{a, b} {
			plane := proj.PlaneFor(orb.Bound{Min: orb.Point{-91, 33}, Max: orb.Point{-90, 34}})
			zones := map[Ground]unit.Area{}
			seen := make([]bool, len(r.Fields))
			for i := range c.Fields {
				f := &c.Fields[i]
				var want float64
				for _, j := range [][]int{f.A, f.B}[run] {
					seen[j] = true
					flat, err := plane.ForwardMultiPolygon(r.Fields[j].Shape, true)
					if err != nil {
						t.Fatal(err)
					}
					want += planar.Area(flat)
				}
				if got := float64(f.sumOf(run) + f.Crumbs[run] - f.Doubled[run]); math.Abs(got-want) > 1e-6*want {
					t.Fatalf("-seed %d, case %d: pairs of run %d add up to %.3f m², its fields to %.3f", *seed, n, run, got, want)
				}
				for _, p := range f.Pairs {
					zones[[]Ground{p.A, p.B}[run]] += p.Area
				}
			}
			if slices.Contains(seen, false) {
				t.Fatalf("-seed %d, case %d: a field of run %d is nowhere", *seed, n, run)
			}
			for i := range r.Zones {
				flat, _ := plane.ForwardMultiPolygon(r.Zones[i].Shape, true)
				if got, want := float64(zones[Ground(i)]), planar.Area(flat); math.Abs(got-want) > 2e-6*want+0.05 { // crumbs of a zone are not in its pairs
					t.Fatalf("-seed %d, case %d: zone %s of run %d has %.3f m² in pairs, of %.3f", *seed, n, r.Zones[i].ID, run, got, want)
				}
			}
		}
		conservedSum(t, n, c)
	}
}

// conservedSum holds the sums against the pairs: nothing is left out of them and nothing counts twice.
func conservedSum(t *testing.T, n int, c *Comparison) {
	t.Helper()
	var all, rated unit.Area
	for i := range c.Fields {
		for _, p := range c.Fields[i].Pairs {
			all += p.Area
			if p.Small < 0 || p.Small > p.Area*(1+1e-9) {
				t.Fatalf("-seed %d, case %d: %v m² of %v are small", *seed, n, p.Small, p.Area)
			}
			a, b := p.A.Zone(c.A), p.B.Zone(c.B)
			if a != nil && b != nil && (a.Rating.Values.PHSurface.Has() || b.Rating.Values.PHSurface.Has()) {
				rated += p.Area
			}
		}
	}
	s := c.Sum()
	if got := s.Both() + s.Only[0] + s.Only[1] + s.Small; math.Abs(float64(got-all)) > 1e-9*float64(all) {
		t.Fatalf("-seed %d, case %d: sums hold %v m² of %v", *seed, n, got, all)
	}
	for name, m := range map[string]Moved{"pH": s.Surface, "lime": s.Lime} {
		if got := m.Up + m.Down + m.Alike + m.Gained + m.Lost + m.Small; math.Abs(float64(got-rated)) > 1e-9*float64(all) {
			t.Fatalf("-seed %d, case %d: %s is told of %v m² of %v", *seed, n, name, got, rated)
		}
	}
}

// Exchanging the runs exchanges the sides of every pair, and what was gained is lost.
func TestExchanged(t *testing.T) {
	for n := range 30 {
		a, b := made(rand.New(rand.NewPCG(*seed, uint64(n))))
		one, two := mustCompare(t, a, b), mustCompare(t, b, a)
		left := map[[2]Ground]unit.Area{}
		for i := range one.Fields {
			for _, p := range one.Fields[i].Pairs {
				left[[2]Ground{p.A, p.B}] += p.Area
			}
		}
		for i := range two.Fields {
			for _, p := range two.Fields[i].Pairs {
				left[[2]Ground{p.B, p.A}] -= p.Area
			}
		}
		for k, area := range left {
			if math.Abs(float64(area)) > 0.02 { // crossings are rounded to the grid, in each direction for itself
				t.Fatalf("-seed %d, case %d: %v share %v m² more than when exchanged", *seed, n, k, area)
			}
		}
		s, u := one.Sum(), two.Sum()
		for what, x := range map[string][2]unit.Area{"only": {s.Only[0], u.Only[1]}, "up": {s.Lime.Up, u.Lime.Down}, "alike": {s.Alike, u.Alike}, "gained": {s.Surface.Gained, u.Surface.Lost}} {
			if math.Abs(float64(x[0]-x[1])) > 0.1 {
				t.Errorf("-seed %d, case %d: %s is %v m², exchanged %v", *seed, n, what, x[0], x[1])
			}
		}
		if math.Abs(float64(s.Tons+u.Tons)) > 1e-6*math.Abs(float64(s.Tons))+1 {
			t.Errorf("-seed %d, case %d: %v kg more lime, exchanged %v", *seed, n, s.Tons, u.Tons)
		}
	}
}

// A run beside itself has not changed.
func TestNothingChanged(t *testing.T) {
	for n := range 20 {
		a, _ := made(rand.New(rand.NewPCG(*seed, uint64(n))))
		c := mustCompare(t, a, a)
		for i := range c.Fields {
			for _, p := range c.Fields[i].Pairs {
				if p.A != p.B || p.Small != p.Area && p.Small != 0 {
					t.Fatalf("-seed %d, case %d: %+v", *seed, n, p)
				}
			}
		}
		if s := c.Sum(); len(s.Turns) > 0 || s.Small+s.Survey+s.Only[0]+s.Only[1] > 0 || s.Tons != 0 || s.Surface.Up+s.Surface.Down > 0 {
			t.Fatalf("-seed %d, case %d: %+v", *seed, n, s)
		}
	}
}

// A comparison that is no longer wanted ends with the reason.
func TestCancelled(t *testing.T) {
	a, b := made(rand.New(rand.NewPCG(1, 2)))
	ctx, cancel := context.WithCancelCause(context.Background())
	gone := errors.New("nobody waits")
	cancel(gone)
	if _, err := Compare(ctx, a, b); !errors.Is(err, gone) {
		t.Errorf("ended with %v", err)
	}
}
