package overlay

import (
	"math/bits"

	"rootworthy/internal/geo"
)

// coarse is a box on a coarse grid of 2^15 by 2^15 cells, packed so that two boxes are compared at once. From the lowest
// bits up, 16 bits each, of which the highest is free:
//
//	x0 | y0 | 2^15-1 - x1 | 2^15-1 - y1
//
// Turned by half and complemented, this is x1, y1, 2^15-1 - x0, 2^15-1 - y0 with all free bits set. Take another box off
// that: each free bit stays set if nothing had to be borrowed from it, that is if
//
//	x1 ≥ other x0    y1 ≥ other y0    x0 ≤ other x1    y0 ≤ other y1
//
// A box goes to the cells of its sides, rounded down, and to the nearest cell if they lie outside the grid. That keeps
// their order, or makes them equal: boxes that meet still do, and of those that do not, few. Boxes that lie outside the
// grid altogether have none.
type coarse uint64

// noCoarse meets nothing but what reaches over the whole grid.
const noCoarse coarse = coarseMax | coarseMax<<16 | coarseMax<<32 | coarseMax<<48

const (
	coarseMax  = 1<<15 - 1
	coarseFree = 0x8000_8000_8000_8000
)

// reach is a coarse box turned and complemented.
type reach uint64

func (c coarse) reach() reach { return reach(^bits.RotateLeft64(uint64(c), 32)) }

// meets says whether the boxes of r and c meet.
func (r reach) meets(c coarse) bool { return (uint64(r)-uint64(c))&coarseFree == coarseFree }

// raster is a coarse grid: its corner, and how many units a cell is wide, as a power of two.
type raster struct {
	x, y  int64
	shift uint
}

// rasterOver returns the finest grid that holds b.
func rasterOver(b *geo.Box) raster {
	size := max(b.X1-b.X0, b.Y1-b.Y0, 0)
	return raster{b.X0, b.Y0, uint(max(0, bits.Len64(uint64(size))-15))}
}

// box returns the coarse box of x0 … y1, which meets the grid.
func (r *raster) box(x0, y0, x1, y1 int64) coarse {
	x0, y0, x1, y1 = (x0-r.x)>>r.shift, (y0-r.y)>>r.shift, (x1-r.x)>>r.shift, (y1-r.y)>>r.shift
	x0, y0, x1, y1 = max(x0, 0), max(y0, 0), min(x1, coarseMax), min(y1, coarseMax)
	return coarse(x0 | y0<<16 | (coarseMax-x1)<<32 | (coarseMax-y1)<<48)
}
