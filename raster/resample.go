package raster

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// Method says how a grid gets the values of other cells.
type Method uint8

// The methods; the zero value invents no value that was not there.
const (
	Nearest  Method = iota // the cell under the middle: keys and classes
	Bilinear               // between the four middles around, missing ones left out: heights
	Average                // all ground under the new cell by area, missing cells left out: rates, and going coarser
)

// String returns the method's name.
func (m Method) String() string {
	if int(m) >= 3 {
		return fmt.Sprintf("method %d", uint8(m))
	}
	return [...]string{"nearest", "bilinear", "average"}[m]
}

// Resample returns the grid on the cells of another frame. When the frames name different systems, the middles of the new
// cells are converted; Average then is refused, as cells do not lie straight in each other. A new cell whose middle lies
// outside the old grid, or in a missing cell, is missing; with Average, one that covers no value at all. A frame without a system is
// taken to be in the grid's. Values of float grids only are mixed: an integer grid knows Nearest only.
func Resample[T Number](ctx context.Context, g *Grid[T], to Frame, m Method) (*Grid[T], error) {
	out, err := New[T](to)
	if err != nil {
		return nil, err
	}
	if m != Nearest && !mixes[T]() {
		return nil, fmt.Errorf("%v makes values in between, which a grid of integers cannot hold; use nearest, or a grid of floats", m)
	}
	// from the new cells back to the old: every new cell gets one value, and none is left over
	way := wayBetween(to, g.frame)
	switch {
	case m == Average && way != nil:
		return nil, fmt.Errorf("averages from %v to %v are not made, as the cells of one lie askew in the other; use bilinear",
			g.frame.CRS, to.CRS)
	case m == Average:
		return out, average(ctx, g, out)
	case m == Nearest, m == Bilinear:
		return out, sample(ctx, g, out, m, way)
	}
	return nil, fmt.Errorf("%v is no way to resample", m)
}

// mixes tells whether the type holds fractions.
func mixes[T Number]() bool { return T(1)/2 != 0 }

// wayBetween returns how a point of one frame becomes one of the other, or nil when it stays as it is. Two systems that
// give the corners and the middle the same coordinates within 1e-6 of a cell are one.
func wayBetween(from, to Frame) func(orb.Point) (orb.Point, bool) {
	if from.CRS.Name() == "" || to.CRS.Name() == "" {
		return nil
	}
	way := func(p orb.Point) (orb.Point, bool) {
		lonLat, ok := from.CRS.ToLonLat(p)
		if !ok {
			return p, false
		}
		return to.CRS.FromLonLat(lonLat)
	}
	b := from.Bound()
	// Systems that agree in two corners and the middle of a raster are one as far as it goes: codes are not compared, since
	// files spell one system in many ways.
	for _, p := range []orb.Point{b.Min, b.Max, b.Center()} {
		q, ok := way(p)
		if !ok || math.Abs(p[0]-q[0]) > 1e-6*to.DX || math.Abs(p[1]-q[1]) > 1e-6*to.DY {
			return way
		}
	}
	return nil
}

// sample looks up the middle of every new cell.
func sample[T Number](ctx context.Context, g, out *Grid[T], m Method, way func(orb.Point) (orb.Point, bool)) error {
	for row := range out.frame.Rows {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		for col := range out.frame.Cols {
			p, ok := out.frame.Center(col, row), true
			if way != nil {
				if p, ok = way(p); !ok {
					continue
				}
			}
			c, r, ok := g.frame.Locate(p)
			if !ok {
				continue
			}
			// a missing cell stays missing with Bilinear too: ground is not made up from its neighbours
			v, ok := g.At(c, r)
			if ok && m == Bilinear {
				// T holds fractions here: Resample has refused integers.
				v = T(g.blend(p))
			}
			if ok {
				out.Set(col, row, v)
			}
		}
	}
	return nil
}

// blend interpolates between the four middles around a point that lies in a cell with a value.
func (g *Grid[T]) blend(p orb.Point) float64 {
	u, v := g.frame.place(p)
	// counted from middles
	u, v = u-0.5, v-0.5
	c, r := int(math.Floor(u)), int(math.Floor(v))
	fu, fv := u-float64(c), v-float64(r)
	sum, weight := 0.0, 0.0
	for k := range 4 {
		dc, dr := k%2, k/2
		// For dc = 0 the weight is 1-fu and for dc = 1 it is fu, and likewise for rows.
		w := math.Abs(float64(1-dc)-fu) * math.Abs(float64(1-dr)-fv)
		cc, rr := c+dc, r+dr
		if w == 0 || cc < 0 || rr < 0 || cc >= g.frame.Cols || rr >= g.frame.Rows {
			continue
		}
		if t, ok := g.At(cc, rr); ok {
			sum += w * float64(t)
			weight += w
		}
	}
	return sum / weight // the cell itself has a weight of a quarter or more
}

// Between returns the value at a point of the grid's own system, interpolated between the four middles around it, missing
// ones left out; ok is false outside the grid and in a missing cell.
func (g *Grid[T]) Between(p orb.Point) (v float64, ok bool) {
	col, row, ok := g.frame.Locate(p)
	if !ok {
		return 0, false
	}
	if _, ok = g.At(col, row); !ok {
		return 0, false
	}
	return g.blend(p), true
}

// average takes all ground under each new cell. Which old columns lie under a new one, and how much of them, is the same
// for all rows.
func average[T Number](ctx context.Context, g, out *Grid[T]) error {
	// Frames may differ in size and place but not in direction, so the two axes are apart.
	columns := overlaps(out.frame.Cols, func(i int) (float64, float64) {
		from := (out.frame.X(i) - g.frame.West) / g.frame.DX
		return from, from + out.frame.DX/g.frame.DX
	}, g.frame.Cols)
	rows := overlaps(out.frame.Rows, func(i int) (float64, float64) {
		from := (g.frame.North - out.frame.Y(i)) / g.frame.DY
		return from, from + out.frame.DY/g.frame.DY
	}, g.frame.Rows)
	sums, weights := make([]float64, out.frame.Cols), make([]float64, out.frame.Cols)
	for row, span := range rows {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		clear(sums)
		clear(weights)
		for r := span.first; r <= span.last; r++ {
			values, gone := g.Row(r)
			for col, over := range columns {
				for c := over.first; c <= over.last; c++ {
					if gone == nil || !gone[c] {
						// As a share of an old cell; that old cells are equal makes it a weight by area.
						w := span.share(r) * over.share(c)
						sums[col] += w * float64(values[c])
						weights[col] += w
					}
				}
			}
		}
		for col, w := range weights {
			// a sliver of rounding along both axes is no ground
			if w > leastShare*leastShare {
				out.Set(col, row, T(sums[col]/w))
			}
		}
	}
	return nil
}

// span is the old cells under a new one along one axis; last < first when there are none.
type span struct {
	first, last int
	from, to    float64
}

// share returns how much of an old cell lies under the new one.
func (s span) share(i int) float64 {
	return math.Min(s.to, float64(i+1)) - math.Max(s.from, float64(i))
}

// overlaps finds the spans of n new cells over old ones; ends that lie within 1e-9 of a line are on it.
func overlaps(n int, ends func(i int) (from, to float64), old int) []span {
	spans := make([]span, n)
	for i := range spans {
		from, to := ends(i)
		if r := math.Round(from); math.Abs(from-r) < leastShare {
			from = r
		}
		if r := math.Round(to); math.Abs(to-r) < leastShare {
			to = r
		}
		from, to = math.Max(0, math.Min(from, float64(old))), math.Max(0, math.Min(to, float64(old)))
		spans[i] = span{int(from), int(math.Ceil(to)) - 1, from, to}
	}
	return spans
}
