package terrain

import (
	"context"
	"math"

	"rootworthy/raster"
)

// Slope returns the steepness of every cell in percent: metres of rise over 100 m of way, as soil surveys give it.
//
//	slope = 100 √(dz/dx² + dz/dy²)
//
// with the gradients of Horn, over the eight cells around. Cells at the edge of the raster or beside a missing cell are
// missing. The error says that cells have no size in metres, or that ctx ended.
//
// Source: Horn, Hill shading and the reflectance map, Proc. IEEE 69 (1981).
func Slope[T raster.Number](ctx context.Context, z *raster.Grid[T], g Ground) (*raster.Grid[float64], error) {
	return eachGradient(ctx, z, g, func(dzdx, dzdy float64) (float64, bool) { return 100 * math.Hypot(dzdx, dzdy), true })
}

// Aspect returns which way the ground falls: degrees from north, clockwise, 0 ≤ aspect < 360. Level cells are missing, as
// are those without a full neighbourhood; the slope tells them apart.
//
// Source: as Slope.
func Aspect[T raster.Number](ctx context.Context, z *raster.Grid[T], g Ground) (*raster.Grid[float64], error) {
	return eachGradient(ctx, z, g, func(dzdx, dzdy float64) (float64, bool) {
		if dzdx == 0 && dzdy == 0 {
			return 0, false
		}
		// dzdy rises southwards, so the way down points east by -dzdx and north by dzdy.
		a := math.Atan2(-dzdx, dzdy) * 180 / math.Pi
		if a < 0 {
			a += 360
		}
		if a >= 360 { // a hair west of north
			a = 0
		}
		return a, true
	})
}

// eachGradient makes a grid of what use makes of the gradients of each cell: dz/dx towards the east, dz/dy towards the south.
func eachGradient[T raster.Number](ctx context.Context, z *raster.Grid[T], g Ground, use func(dzdx, dzdy float64) (float64, bool)) (*raster.Grid[float64], error) {
	s, err := g.measure(z.Frame())
	if err != nil {
		return nil, err
	}
	out, err := raster.New[float64](z.Frame())
	if err != nil {
		return nil, err
	}
	// The outermost rows and columns have no full neighbourhood and stay missing.
	for row := 1; row < z.Frame().Rows-1; row++ {
		if ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
		var n neighbourhood[T]
		for k := range n.values {
			n.values[k], n.gone[k] = z.Row(row - 1 + k)
		}
		for col := 1; col < z.Frame().Cols-1; col++ {
			if !n.whole(col) {
				continue
			}
			dzdx, dzdy := n.gradient(col)
			// Eight, because gradient adds up four differences over two cells each.
			if v, ok := use(dzdx*s.height/(8*s.dx[row]), dzdy*s.height/(8*s.dy[row])); ok {
				out.Set(col, row, v)
			}
		}
	}
	return out, nil
}

// neighbourhood is three rows, northern first.
type neighbourhood[T raster.Number] struct {
	values [3][]T
	gone   [3][]bool
}

// whole tells whether a cell and the eight around it have values.
func (n *neighbourhood[T]) whole(col int) bool {
	for _, gone := range n.gone {
		if gone != nil && (gone[col-1] || gone[col] || gone[col+1]) {
			return false
		}
	}
	return true
}

// gradient returns eight times the rise from cell to cell:
//
//	a b c
//	d e f    dz/dx = (c + 2f + i) - (a + 2d + g),  dz/dy = (g + 2h + i) - (a + 2b + c)
//	g h i
func (n *neighbourhood[T]) gradient(col int) (dzdx, dzdy float64) {
	at := func(row, dc int) float64 { return float64(n.values[row][col+dc]) }
	west, east := at(0, -1)+2*at(1, -1)+at(2, -1), at(0, 1)+2*at(1, 1)+at(2, 1)
	north, south := at(0, -1)+2*at(0, 0)+at(0, 1), at(2, -1)+2*at(2, 0)+at(2, 1)
	return east - west, south - north
}
