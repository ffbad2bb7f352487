package terrain

import (
	"context"
	"fmt"
	"math"

	"rootworthy/raster"
)

// WetnessOptions tunes Wetness; the zero value suits grids of some metres.
type WetnessOptions struct {
	Routing Routing // the zero value spreads
	// LeastDrop is the fall in metres across a cell that level ground is given; 0 means 0.005. Level ground would have an
	// infinite index. Source: common practice, no source; 0.005 m is that of one published implementation.
	LeastDrop float64
}

// Wet is how much ground drains through each cell, and how slowly.
type Wet struct {
	Index *raster.Grid[float64] // topographic wetness index; missing where the slope is
	Area  *raster.Grid[float64] // specific catchment area, m² for each metre of contour
	// Cut is 1 where part of the catchment may lie beyond the raster, so that Area and Index are too small, else 0.
	Cut *raster.Grid[uint8]
}

// Wetness returns the topographic wetness index of every cell:
//
//	index = ln(a / tan β)
//
// a is the specific catchment area: the ground that drains through the cell, its own included, over the width of the cell.
// tan β is the slope of [Slope] as a fraction, at least LeastDrop over the width. Water is led out of hollows as if they
// were full.
//
// Source: Beven and Kirkby, Hydrological Sciences Bulletin 24 (1979), definition; flow: see [Routing]. The slope taken is
// common practice, no source.
func Wetness[T raster.Number](ctx context.Context, z *raster.Grid[T], g Ground, opt WetnessOptions) (Wet, error) {
	if opt.LeastDrop == 0 {
		opt.LeastDrop = 0.005
	}
	if !(opt.LeastDrop > 0) || opt.Routing > Single {
		return Wet{}, fmt.Errorf("a least drop of %v m by routing %d; it must be positive, and the routing 0 or 1", opt.LeastDrop, opt.Routing)
	}
	s, err := surfaceOf(z, g)
	if err != nil {
		return Wet{}, err
	}
	slope, err := Slope(ctx, z, g)
	if err != nil {
		return Wet{}, err
	}
	area, cut, err := s.gather(ctx, opt.Routing)
	if err != nil {
		return Wet{}, err
	}
	var w Wet
	if w.Index, err = raster.New[float64](s.frame); err != nil {
		return Wet{}, err
	}
	marks := make([]uint8, len(cut))
	for i := range area {
		// From here on the specific catchment area.
		area[i] /= s.width(i)
		if cut[i] {
			marks[i] = 1
		}
		if percent, ok := slope.At(i%s.cols, i/s.cols); ok {
			w.Index.Set(i%s.cols, i/s.cols, math.Log(area[i]/math.Max(percent/100, opt.LeastDrop/s.width(i))))
		}
	}
	if w.Area, err = s.grid(area); err != nil {
		return Wet{}, err
	}
	w.Cut, err = raster.FromCells(s.frame, marks, append([]bool(nil), s.gone...))
	return w, err
}
