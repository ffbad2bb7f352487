package interp

import (
	"context"
	"errors"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/raster"
)

// Method is how a surface is made.
type Method uint8

// The methods. The zero value is kriging.
const (
	OrdinaryKriging Method = iota
	InverseDistance
	Nearest
	Mean
)

// Methods lists the methods.
func Methods() []Method { return []Method{OrdinaryKriging, InverseDistance, Nearest, Mean} }

// String returns the method as the trade says it.
func (m Method) String() string {
	return [...]string{"ordinary kriging", "inverse distance", "nearest point", "mean"}[m]
}

// Options tunes [Interpolate]. The zero value suits soil tests of a field.
type Options struct {
	Method     Method
	Few        Method           // Nearest or Mean, for points too few; any other means Mean
	Least      int              // points from which Method is used; 0 means DefaultLeast for kriging and 3 for inverse distance
	Neighbours int              // 0 means DefaultNeighbours
	Power      float64          // of inverse distance; 0 means 2
	Variogram  Variogram        // of kriging; the zero value means that it is fitted. A Gaussian one gets a nugget of 0.1 % at least
	Near       float64          // points closer than this are one; 0 means a thousandth of their usual distance
	Inside     orb.MultiPolygon // cells that it touches are filled; nil means all
	Workers    int              // goroutines; 0 means one per CPU
}

// DefaultLeast is the number of points under which no variogram is fitted.
// Source: proposal; textbooks ask for 50 to 100 (from memory, not checked), which fields seldom have, so the leave-one-out error goes with
// every surface.
const DefaultLeast = 15

// Surface is a value for every cell asked for.
type Surface struct {
	Values *raster.Grid[float64]
	Errors *raster.Grid[float64] // kriging standard error; nil with other methods
	Method Method                // used
	Why    string                // FewPoints or AllEqual where another method than the one asked for was used
	Fit    Fit                   // the variogram of kriging; its lags are empty where it was given
	Check  LeaveOneOut
	Points int // after melting
	Melted int // points that were melted into a neighbour
}

// Why another method was used, stable codes.
const (
	FewPoints = "few points"
	AllEqual  = "all values equal"
	NoPattern = "no pattern" // no lag to fit a variogram to
)

var (
	errNoPoints = errors.New("there are no points to interpolate from")
	errPower    = errors.New("a power of inverse distance lies over 0, up to 10")
	errDegrees  = errors.New("degrees are no distances; project the points and the grid to a plane first")
	errNegative = errors.New("the number of neighbours, the least number of points and the distance of near points are 0 or more")
)

// Interpolate makes a surface on a frame from points in the frame's own system. Too few points, or values all the same,
// fall back on Options.Few, and the surface says so. An error means that nothing can be made of the points or the
// options, or that ctx ended.
func Interpolate(ctx context.Context, f raster.Frame, samples []Sample, o Options) (*Surface, error) {
	if err := o.check(f); err != nil {
		return nil, err
	}
	points, melted, err := o.place(samples)
	if err != nil {
		return nil, err
	}
	s := &Surface{Points: len(points), Melted: melted}
	e, err := s.choose(points, o)
	if err != nil {
		return nil, err
	}
	return s, s.fill(ctx, f, e, o)
}

// check refuses what no surface can be made by, whatever the points.
func (o Options) check(f raster.Frame) error {
	if err := f.Check(); err != nil {
		return err
	}
	switch {
	case f.CRS.Geographic():
		return errDegrees
	case !(o.Power >= 0 && o.Power <= mostPower):
		return errPower
	case o.Neighbours < 0 || o.Least < 0 || !(o.Near >= 0):
		return errNegative
	case o.Variogram != (Variogram{}):
		return o.Variogram.Check()
	}
	return nil
}

// place puts the points in order and melts near ones.
func (o Options) place(samples []Sample) (points []Sample, melted int, err error) {
	// Points at one place first: they would make the usual distance smaller than it is.
	points, same, err := place(samples, 0)
	if err == nil && len(points) == 0 {
		err = errNoPoints
	}
	if err != nil {
		return nil, 0, err
	}
	near := o.Near
	if near == 0 {
		near = spacing(points) / 1000
	}
	points, close, err := place(points, near)
	return points, same + close, err
}

// spacing returns how far points usually are apart: as if spread evenly over their box, or along it where it is a line.
func spacing(points []Sample) float64 {
	b, n := bounds(points), float64(len(points))
	w, h := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	return math.Max(math.Sqrt(w*h/n), math.Max(w, h)/n)
}

// estimator estimates at places.
type estimator interface {
	// tile returns a function for the cells of a block of ground: of the given middle, none farther off than reach.
	tile(middle orb.Point, reach float64) func(orb.Point) (value, variance float64)
}

// choose settles the method and leaves one point out at a time.
func (s *Surface) choose(points []Sample, o Options) (estimator, error) {
	s.Method = o.Method
	least := o.Least
	switch {
	case least > 0:
	case o.Method == OrdinaryKriging:
		least = DefaultLeast
	case o.Method == InverseDistance:
		least = 3
	}
	switch {
	// asked before values are compared: what few points are missing is points
	case len(points) < least:
		s.fallBack(o, FewPoints)
	case o.Method == OrdinaryKriging && o.Variogram == (Variogram{}) && allEqual(points):
		s.fallBack(o, AllEqual)
	}
	if s.Method == OrdinaryKriging {
		// the one given; where none is, it is fitted below
		s.Fit.Variogram = o.Variogram.calm()
		if o.Variogram == (Variogram{}) {
			// Melted points stand at different places, but all may lie beyond half the diagonal from each other: two,
			// say.
			lags := empirical(points)
			ok := len(lags) > 0
			if ok {
				s.Fit, ok = fit(lags)
			}
			if !ok {
				s.fallBack(o, NoPattern)
			}
		}
	}
	return s.estimator(points, o), nil
}

// fallBack takes the simpler method, and keeps why.
func (s *Surface) fallBack(o Options, why string) {
	s.Why, s.Method = why, Mean
	if o.Few == Nearest {
		s.Method = Nearest
	}
}

// estimator makes the method that was settled on, and tries it on each point.
func (s *Surface) estimator(points []Sample, o Options) estimator {
	switch s.Method {
	case OrdinaryKriging:
		k := newKriging(points, s.Fit.Variogram, o.Neighbours)
		s.Check = leaveOneOut(points, func(i int) (float64, float64) { return k.without(points[i].At, int32(i)) })
		return k
	case InverseDistance, Nearest:
		neighbours := o.Neighbours
		if s.Method == Nearest {
			// the nearest is inverse distance from one point
			neighbours = 1
		}
		d := newIDW(points, o.Power, neighbours)
		s.Check = leaveOneOut(points, func(i int) (float64, float64) { return d.without(points[i].At, int32(i)), 0 })
		return d
	}
	// A point left out changes the mean by its distance from it over n - 1; with one point alone leaveOneOut asks for
	// nothing.
	mean, _ := meanOf(points)
	n := float64(len(points))
	s.Check = leaveOneOut(points, func(i int) (float64, float64) { return mean + (mean-points[i].Value)/(n-1), 0 })
	return constant(mean)
}

// constant is the same everywhere.
type constant float64

func (c constant) tile(orb.Point, float64) func(orb.Point) (float64, float64) {
	return func(orb.Point) (float64, float64) { return float64(c), 0 }
}
