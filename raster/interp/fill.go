package interp

import (
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/ordered"
	"rootworthy/raster"
)

// tileCells is the side of the blocks of cells that are worked on at once.
const tileCells = 16

// fill estimates every cell asked for. Each cell's value depends on nothing but its place, so blocks may be done in any
// order.
func (s *Surface) fill(ctx context.Context, f raster.Frame, e estimator, o Options) error {
	// ground outside costs as much as inside, and a field may fill its box by half
	missing, err := outside(f, o.Inside)
	if err != nil {
		return err
	}
	values := make([]float64, f.Cols*f.Rows)
	var errors []float64
	if s.Method == OrdinaryKriging {
		errors = make([]float64, len(values))
	}
	across, down := (f.Cols+tileCells-1)/tileCells, (f.Rows+tileCells-1)/tileCells
	_, err = ordered.Map(ctx, across*down, o.Workers, func(i int) (struct{}, error) {
		w := raster.Window{Col: i % across * tileCells, Row: i / across * tileCells}
		w.Cols, w.Rows = min(tileCells, f.Cols-w.Col), min(tileCells, f.Rows-w.Row)
		fillTile(f, w, e, missing, values, errors)
		return struct{}{}, nil
	})
	if err != nil {
		return err
	}
	// A grid owns its marks and may change them, so the two grids have one each.
	var gone []bool
	if missing != nil {
		gone = slices.Clone(missing)
	}
	if s.Values, err = raster.FromCells(f, values, missing); err != nil || errors == nil {
		return err
	}
	s.Errors, err = raster.FromCells(f, errors, gone)
	return err
}

// fillTile estimates the cells of one block; a block without a cell that is asked for costs nothing.
func fillTile(f raster.Frame, w raster.Window, e estimator, missing []bool, values, errors []float64) {
	var at func(orb.Point) (float64, float64) // made for the first cell that is asked for
	for row := w.Row; row < w.Row+w.Rows; row++ {
		for col := w.Col; col < w.Col+w.Cols; col++ {
			i := row*f.Cols + col
			if missing != nil && missing[i] {
				continue
			}
			if at == nil {
				// the block's own ground: its diagonal is as far as a cell can be from its middle
				b := f.Window(w).Bound()
				at = e.tile(b.Center(), distance(b.Min, b.Max)/2)
			}
			value, variance := at(f.Center(col, row))
			values[i] = value
			if errors != nil {
				errors[i] = math.Sqrt(variance)
			}
		}
	}
}

// outside marks the cells that a polygon does not touch; nil where all are asked for.
func outside(f raster.Frame, inside orb.MultiPolygon) ([]bool, error) {
	if inside == nil {
		return nil, nil
	}
	missing := make([]bool, f.Cols*f.Rows)
	for i := range missing {
		missing[i] = true
	}
	_, err := raster.Coverage(f, inside, func(col, row int, _ float64) { missing[row*f.Cols+col] = false })
	return missing, err
}
