package interp

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"github.com/paulmach/orb"
)

// system is ordinary kriging from one set of points, solved as far as it does not depend on the target.
//
//	C w = c - μ 1,  Σ w = 1        C = base - γ between the points, c = base - γ to the target
//
// base may be any number over all γ: weights and variance do not depend on it. C is then positive definite, and with
// its Cholesky factor u'u every target costs one dot product for the value and one triangle for the variance.
// Source: Isaaks and Srivastava 1989, An Introduction to Applied Geostatistics, chapter 12.
type system struct {
	v      Variogram
	points []Sample
	base   float64
	upper  []float64 // u, row by row; row i begins at its diagonal
	mean   float64   // generalised least squares mean of the points
	dual   []float64 // C⁻¹ (z - mean)
	ones   []float64 // C⁻¹ 1
	sum    float64   // Σ ones
}

// newSystem solves for a set of points at different places, one at least.
func newSystem(v Variogram, points []Sample) *system {
	n := len(points)
	s := &system{v: v, points: points, base: v.Sill}
	gamma := make([]float64, n*n)
	for i := range points {
		for j := i + 1; j < n; j++ {
			// both halves are alike, so one is worked out
			g := v.At(distance(points[i].At, points[j].At))
			gamma[i*n+j] = g
			s.base = math.Max(s.base, 2*g) // only the linear model passes its sill
		}
	}
	// sill - γ is a covariance of the models that have a sill, whatever 2γ comes to
	if v.Model != Linear {
		s.base = v.Sill
	}
	chol := s.factor(gamma, n)
	s.solve(chol, n)
	return s
}

// factor returns the Cholesky factor of C. Where points are so alike that rounding leaves C without one, the diagonal
// grows by as little of base as helps: it acts as a nugget of that size.
func (s *system) factor(gamma []float64, n int) *mat.Cholesky {
	c := mat.NewSymDense(n, nil)
	var chol mat.Cholesky
	for ridge := 0.0; ; ridge = math.Max(ridge*10, s.base*1e-12) {
		for i := range n {
			c.SetSym(i, i, s.base+ridge)
			for j := i + 1; j < n; j++ {
				c.SetSym(i, j, s.base-gamma[i*n+j])
			}
		}
		// the last resort is a ridge as large as the variance, which gives a factor whatever rounding did
		if chol.Factorize(c) && chol.Cond() < worstCondition || ridge > s.base {
			return &chol
		}
	}
}

// worstCondition leaves five digits of sixteen in the weights.
const worstCondition = 1e11

// solve works out all that does not depend on the target: mean, weights of the values, and the factor row by row.
func (s *system) solve(chol *mat.Cholesky, n int) {
	ones, z := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i, p := range s.points {
		ones.SetVec(i, 1)
		z.SetVec(i, p.Value-s.points[0].Value) // differences keep digits of large values
	}
	var inverseOnes, inverseZ mat.VecDense
	// the error says no more than the condition, which was looked at
	_ = chol.SolveVecTo(&inverseOnes, ones)
	_ = chol.SolveVecTo(&inverseZ, z)
	s.ones, s.dual = inverseOnes.RawVector().Data, inverseZ.RawVector().Data
	mean := 0.0
	for i := range n {
		s.sum += s.ones[i]
		mean += s.dual[i]
	}
	// Σ C⁻¹z / Σ C⁻¹1, the mean that counts clustered points less
	mean /= s.sum
	for i := range n {
		s.dual[i] -= mean * s.ones[i]
	}
	s.mean = mean + s.points[0].Value
	// the triangle without its zeros, row by row, as at walks it
	raw := chol.RawU().(*mat.TriDense).RawTriangular()
	for i := range n {
		s.upper = append(s.upper, raw.Data[i*raw.Stride+i:i*raw.Stride+n]...)
	}
}

// at returns the estimate and its variance; c is room for as many numbers as there are points.
func (s *system) at(p orb.Point, c []float64) (value, variance float64) {
	c = c[:len(s.points)]
	share := 0.0
	for i := range s.points {
		dx, dy := p[0]-s.points[i].At[0], p[1]-s.points[i].At[1]
		// a plain square root: Hypot guards against overflow, which coordinates in metres do not reach
		c[i] = s.base - s.v.At(math.Sqrt(dx*dx+dy*dy))
		value += c[i] * s.dual[i]
		share += c[i] * s.ones[i]
	}
	explained := 0.0 // c' C⁻¹ c = |u'⁻¹ c|²
	row := s.upper
	for i := range c {
		y := c[i] / row[0]
		explained += y * y
		rest := c[i+1:]
		for j, u := range row[1 : 1+len(rest)] {
			rest[j] -= y * u
		}
		row = row[1+len(rest):]
	}
	// The last term is the price of not knowing the mean. Rounding can leave a variance just under zero at a point.
	variance = s.base - explained + (1-share)*(1-share)/s.sum
	return s.mean + value, math.Max(0, variance)
}
