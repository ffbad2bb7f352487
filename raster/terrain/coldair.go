package terrain

import (
	"context"
	"fmt"
	"math"

	"rootworthy/raster"
)

// ColdAirOptions tunes ColdAir.
type ColdAirOptions struct {
	Radius float64 // metres around a cell that it is compared with; 0 means 250
}

// ColdAir returns by how many metres each cell lies below the ground around it: the mean height within a square of twice
// the radius less its own, or the depth of the hollow it lies in if that is more; 0 where it lies higher. On still clear
// nights cold air drains to such places, so of two cells the one with more is likelier to have frost.
//
// It is a witness beside others, no forecast: it knows no wind, trees or buildings, and how many metres matter is
// for local knowledge to say. Close to the edge of the raster only the ground that is there takes part.
//
// Source: common practice, no source.
func ColdAir[T raster.Number](ctx context.Context, z *raster.Grid[T], g Ground, opt ColdAirOptions) (*raster.Grid[float64], error) {
	if opt.Radius == 0 {
		opt.Radius = 250
	}
	if !(opt.Radius > 0) || math.IsInf(opt.Radius, 0) {
		return nil, fmt.Errorf("a radius of %v m; it must be positive", opt.Radius)
	}
	// Every hollow, however small: noise of some decimetres makes a cell lower by no more than itself.
	_, depth, err := Depressions(ctx, z, g, DepressionOptions{})
	if err != nil {
		return nil, err
	}
	s, err := surfaceOf(z, g)
	if err != nil {
		return nil, err
	}
	sums := s.sums()
	below := make([]float64, len(s.z))
	for i, h := range s.z {
		if s.gone[i] {
			continue
		}
		c, r := i%s.cols, i/s.cols
		// Whole cells on either side that lie within the radius; a row has its own size in a grid of degrees.
		half := func(size float64, most int) int { return int(math.Min(opt.Radius/size, float64(most))) }
		// A square and not a circle: it costs four look-ups, and the radius is a judgement anyway.
		mean := sums.mean(c, r, half(s.dx[r], s.cols), half(s.dy[r], s.rows))
		under, _ := depth.At(c, r)
		below[i] = math.Max(0, math.Max(mean-h, under))
	}
	return s.grid(below)
}

// table holds sums of heights and counts of cells over all that lies north-west of a crossing of lines, so that any
// rectangle costs four look-ups.
type table struct {
	cols, rows int
	base       float64 // taken off every height, so that sums keep their digits
	heights    []float64
	counts     []int32
}

// sums fills the table in one sweep by rows.
func (s *surface) sums() *table {
	t := &table{cols: s.cols, rows: s.rows, heights: make([]float64, (s.cols+1)*(s.rows+1)), counts: make([]int32, (s.cols+1)*(s.rows+1))}
	for i, gone := range s.gone {
		if !gone {
			t.base = s.z[i]
			break
		}
	}
	for r := range s.rows {
		sum, n := 0.0, int32(0)
		for c := range s.cols {
			if i := r*s.cols + c; !s.gone[i] {
				sum += s.z[i] - t.base
				n++
			}
			at := (r+1)*(s.cols+1) + c + 1
			t.heights[at], t.counts[at] = t.heights[at-s.cols-1]+sum, t.counts[at-s.cols-1]+n
		}
	}
	return t
}

// mean returns the mean height of the cells around one, itself included, which must not be missing.
func (t *table) mean(col, row, halfCols, halfRows int) float64 {
	w := t.cols + 1
	c0, c1 := max(0, col-halfCols), min(t.cols, col+halfCols+1)
	r0, r1 := max(0, row-halfRows), min(t.rows, row+halfRows+1)
	sum := t.heights[r1*w+c1] - t.heights[r0*w+c1] - t.heights[r1*w+c0] + t.heights[r0*w+c0]
	n := t.counts[r1*w+c1] - t.counts[r0*w+c1] - t.counts[r1*w+c0] + t.counts[r0*w+c0]
	return t.base + sum/float64(n)
}
