package sampling

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/tidwall/geodesic"
)

// Distances in the frame against Karney's geodesics.
func TestFrameAgainstGeodesics(t *testing.T) {
	for _, at := range []orb.Point{{-83, 31.2}, {-91.2, 33.3}, {10, 60}, {150, -35}} {
		f := frameAt(at)
		for _, to := range []orb.Point{{300, 0}, {0, 700}, {-500, -500}} {
			want := 0.0
			q := f.out(to)
			geodesic.WGS84.Inverse(at[1], at[0], q[1], q[0], &want, nil, nil)
			if got := math.Hypot(to[0], to[1]); math.Abs(got/want-1) > 2e-4 {
				t.Errorf("%v to %v: %.4f m, geodesic %.4f", at, to, got, want)
			}
		}
	}
}

// square is a lattice of n by n points.
func square(n int) (out []orb.Point) {
	for y := range n {
		for x := range n {
			out = append(out, orb.Point{float64(x), float64(y)})
		}
	}
	return out
}

// Cores spread better than random ones: no ground is far from a core.
func TestCoresSpread(t *testing.T) {
	points := square(30)
	far := func(cores []orb.Point) (worst float64) {
		for _, p := range points {
			best := math.Inf(1)
			for _, c := range cores {
				best = min(best, between(p, c))
			}
			worst = max(worst, best)
		}
		return worst
	}
	got := cores(points, 10)
	if len(got) != 10 {
		t.Fatalf("%d cores", len(got))
	}
	for i, c := range got {
		if slices.Contains(got[:i], c) || !slices.Contains(points, c) {
			t.Errorf("core %d at %v", i, c)
		}
	}
	r := rand.New(rand.NewPCG(1, 2))
	mean := 0.0
	for range 50 {
		var some []orb.Point
		for range 10 {
			some = append(some, points[r.IntN(len(points))])
		}
		mean += far(some) / 50
	}
	if far(got) > 0.75*mean {
		t.Errorf("farthest ground %.2f from a core, from a random one %.2f on average", far(got), mean)
	}
}

// No point is lost or taken twice, and no part is less than half of its fair share.
func TestPartsShareOutEverything(t *testing.T) {
	points := square(20)
	for _, n := range []int{1, 2, 3, 7} {
		parts, all := parts(points, n), 0
		for _, p := range parts {
			all += len(p)
			if len(p) < 400/n/2 {
				t.Errorf("%d parts: one has only %d points", n, len(p))
			}
		}
		if all != 400 || len(parts) != n {
			t.Errorf("%d parts hold %d points", len(parts), all)
		}
	}
}

// The way goes everywhere once, and is hardly longer than the best there is: of few points, all ways are tried.
func TestWalk(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 40 {
		var p []orb.Point
		for range 7 {
			p = append(p, orb.Point{r.Float64() * 100, r.Float64() * 100})
		}
		order := walk(p)
		sorted := slices.Sorted(slices.Values(order))
		if !slices.Equal(sorted, []int{0, 1, 2, 3, 4, 5, 6}) {
			t.Fatalf("order %v", order)
		}
		best := math.Inf(1)
		var try func(way []int)
		try = func(way []int) {
			if len(way) == len(p) {
				best = min(best, length(p, way))
				return
			}
			for i := range p {
				if !slices.Contains(way, i) {
					try(append(slices.Clone(way), i))
				}
			}
		}
		try([]int{order[0]})
		if got := length(p, order); got > best*1.25 {
			t.Errorf("way of %.1f, the shortest is %.1f", got, best)
		}
	}
	if walk(nil) != nil {
		t.Error("a way without points")
	}
}
