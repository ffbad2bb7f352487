package uncertainty

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// Source: mean (a+b+c)/3 and variance (a²+b²+c²-ab-ac-bc)/18 of the triangular distribution, any handbook of
// distributions; from memory, not checked.
func TestTriangleMoments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(3, 6).Draw(t, "low")
		mode := low + rapid.Float64Range(0, 2).Draw(t, "mode")
		high := mode + rapid.Float64Range(0, 2).Draw(t, "high")
		const n = 20000
		sum, square, before := 0.0, 0.0, low
		for i := range n {
			x := triangle((float64(i)+0.5)/n, low, mode, high)
			if x < before-1e-9 || x > high+1e-9 {
				t.Fatalf("%g after %g in %g to %g", x, before, low, high)
			}
			before = x
			sum += x
			square += x * x
		}
		mean := sum / n
		variance := square/n - mean*mean
		wantMean := (low + mode + high) / 3
		wantVariance := (low*low + mode*mode + high*high - low*mode - low*high - mode*high) / 18
		if math.Abs(mean-wantMean) > 1e-4 || math.Abs(variance-wantVariance) > 1e-4 {
			t.Fatalf("mean %g, want %g; variance %g, want %g", mean, wantMean, variance, wantVariance)
		}
	})
}

// The half width holds the truth 19 times in 20, counted over binomial draws, also for rare things.
func TestHalfWidthCovers(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, p := range []float64{0, 0.02, 0.3, 0.5, 0.97} {
		const runs, n = 2000, 400
		out := 0
		for range runs {
			k := 0
			for range n {
				if r.Float64() < p {
					k++
				}
			}
			if math.Abs(float64(k)/n-p) > halfWidth(k, n) {
				out++
			}
		}
		if out > runs*8/100 { // near 0 and 1 the centre of the score interval is not k/n; five in a hundred elsewhere
			t.Errorf("chance %g: missed %d times in %d", p, out, runs)
		}
	}
}
