package job

import (
	"iter"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/overlay"
)

// TestFieldsAreStreamed: the overlay, as the screening runs it, is never more than a bounded number of fields ahead of the cuts that it
// has handed over, so that what it holds does not grow with the number of fields. Ten times the fields, the same bound.
func TestFieldsAreStreamed(t *testing.T) {
	square := func(x, y, side float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}}}
	}
	for _, workers := range []int{1, 2, 8} {
		for _, n := range []int{3_000, 30_000} {
			ground := overlay.New()
			if err := ground.Take(0, square(0, 0, 1000)); err != nil {
				t.Fatal(err)
			}
			handed := make(chan struct{}, n) // counts cuts across goroutines without a lock in the test
			most := 0
			var fields iter.Seq2[int, orb.MultiPolygon] = func(yield func(int, orb.MultiPolygon) bool) {
				for i := range n {
					most = max(most, i-len(handed))
					if !yield(i, square(float64(i%100)*10, float64(i/100)*3, 5)) {
						return
					}
				}
			}
			opt := overlay.Options{Workers: workers, Dissolve: true, Gaps: true, Boundary: true}
			if err := ground.Run(t.Context(), fields, opt, func(overlay.Cut) error { handed <- struct{}{}; return nil }); err != nil {
				t.Fatal(err)
			}
			if bound := 100 * (workers + 4); most > bound || len(handed) != n {
				t.Errorf("%d fields, %d workers: up to %d fields ahead, want at most %d; %d cuts", n, workers, most, bound, len(handed))
			}
		}
	}
}
