package interp

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/raster"
)

// denseKriging is the slow obvious twin: the whole bordered system in semivariances, by elimination with full pivoting
// of rows, for every target anew.
func denseKriging(points []Sample, v Variogram, p orb.Point) (value, variance float64) {
	n := len(points)
	a := make([][]float64, n+1)
	right := make([]float64, n+1)
	for i := range a {
		a[i] = make([]float64, n+2)
		for j := range n {
			if i < n {
				a[i][j] = v.At(math.Hypot(points[i].At[0]-points[j].At[0], points[i].At[1]-points[j].At[1]))
			} else {
				a[i][j] = 1
			}
		}
		if i < n {
			a[i][n] = 1
			right[i] = v.At(math.Hypot(points[i].At[0]-p[0], points[i].At[1]-p[1]))
		} else {
			right[i] = 1
		}
		a[i][n+1] = right[i]
	}
	w := eliminate(a)
	for i := range n {
		value += w[i] * points[i].Value
		variance += w[i] * right[i]
	}
	return value, variance + w[n]
}

func eliminate(a [][]float64) []float64 {
	n := len(a)
	for c := range n {
		best := c
		for r := c; r < n; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[best][c]) {
				best = r
			}
		}
		a[c], a[best] = a[best], a[c]
		for r := range n {
			if f := a[r][c] / a[c][c]; r != c {
				for k := c; k <= n; k++ {
					a[r][k] -= f * a[c][k]
				}
			}
		}
	}
	x := make([]float64, n)
	for i := range x {
		x[i] = a[i][n] / a[i][i]
	}
	return x
}

// scatter makes points of a smooth surface with noise, from a seed.
func scatter(seed uint64, n int, side, noise float64) []Sample {
	r := rand.New(rand.NewPCG(seed, 1))
	out := make([]Sample, n)
	for i := range out {
		p := orb.Point{r.Float64() * side, r.Float64() * side}
		out[i] = Sample{p, 6 + 0.6*math.Sin(p[0]/side*5) + 0.4*math.Cos(p[1]/side*7) + noise*r.NormFloat64()}
	}
	return out
}

func plane(cols, rows int, side float64) raster.Frame {
	return raster.Frame{Cols: cols, Rows: rows, West: 0, North: side, DX: side / float64(cols), DY: side / float64(rows)}
}

func variograms() []Variogram {
	return []Variogram{
		{Spherical, 0.02, 0.3, 200}, {Spherical, 0, 0.3, 60}, {Exponential, 0.02, 0.3, 300}, {Exponential, 0, 0.3, 100},
		{Gaussian, 0.02, 0.3, 150}, {Linear, 0.01, 0.3, 200}, {Linear, 0, 0.3, 200}, {Spherical, 0.3, 0.3, 100},
	}
}

func TestKrigingEqualsDense(t *testing.T) {
	for seed := range uint64(3) {
		points := scatter(seed, 30, 400, 0.1)
		for _, v := range variograms() {
			s, err := Interpolate(context.Background(), plane(9, 7, 400), points, Options{Variogram: v, Near: 1e-9})
			if err != nil {
				t.Fatal(err)
			}
			for row := range 7 {
				for col := range 9 {
					value, variance := denseKriging(points, v, s.Values.Frame().Center(col, row))
					got, _ := s.Values.At(col, row)
					e, _ := s.Errors.At(col, row)
					if math.Abs(got-value) > 1e-8 || math.Abs(e*e-variance) > 1e-8 {
						t.Fatalf("seed %d, %+v, cell %d, %d: %v ± %v; the dense solution is %v ± %v", seed, v, col, row, got, e, value, math.Sqrt(variance))
					}
				}
			}
		}
	}
}

// With more points than neighbours each cell is the dense solution of its own 32 nearest, found by looking at all.
func TestNeighboursEqualDense(t *testing.T) {
	points := scatter(7, 150, 400, 0.1)
	f := plane(40, 40, 400)
	for _, o := range []Options{{Variogram: variograms()[0]}, {Variogram: variograms()[5]}, {Variogram: variograms()[2], Neighbours: 7}} {
		o.Near = 1e-9
		s, err := Interpolate(context.Background(), f, points, o)
		if err != nil {
			t.Fatal(err)
		}
		for row := 0; row < f.Rows; row += 3 {
			for col := 1; col < f.Cols; col += 3 {
				p := f.Center(col, row)
				near := bruteNearest(points, p, many(o.Neighbours))
				value, variance := denseKriging(near, o.Variogram, p)
				got, _ := s.Values.At(col, row)
				e, _ := s.Errors.At(col, row)
				if math.Abs(got-value) > 1e-8 || math.Abs(e*e-variance) > 1e-8 {
					t.Fatalf("cell %d, %d: %v ± %v; the dense solution of the nearest is %v ± %v", col, row, got, e, value, math.Sqrt(variance))
				}
			}
		}
	}
}

func bruteNearest(points []Sample, p orb.Point, k int) []Sample {
	left := append([]Sample(nil), points...)
	var out []Sample
	for range min(k, len(points)) {
		best := 0
		for i := range left {
			if distance(left[i].At, p) < distance(left[best].At, p) {
				best = i
			}
		}
		out = append(out, left[best])
		left = append(left[:best], left[best+1:]...)
	}
	return out
}
