package raster

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// Integer is what keys and classes are held in.
type Integer interface {
	~int8 | ~int16 | ~int32 | ~int64 | ~uint8 | ~uint16 | ~uint32 | ~uint64
}

// Number is what the cells of a grid may be.
type Number interface{ Integer | ~float32 | ~float64 }

// Grid is a value for each cell of a frame, or none. A float cell that holds a value is a finite number. Several may
// read a grid at once; writing needs it alone.
type Grid[T Number] struct {
	frame Frame
	cells []T    // by rows; 0 where missing
	gone  []bool // nil when no cell is missing
}

// New returns a grid whose cells are all missing.
func New[T Number](f Frame) (*Grid[T], error) {
	if err := f.checkHeld(); err != nil {
		return nil, err
	}
	g := &Grid[T]{frame: f, cells: make([]T, f.Cols*f.Rows), gone: make([]bool, f.Cols*f.Rows)}
	for i := range g.gone {
		g.gone[i] = true
	}
	return g, nil
}

// FromCells returns a grid of values by rows, northern row first; missing tells which of them are none, nil that all are
// there. NaN and infinities become missing. Both slices belong to the grid from now on.
func FromCells[T Number](f Frame, cells []T, missing []bool) (*Grid[T], error) {
	if err := f.checkHeld(); err != nil {
		return nil, err
	}
	if len(cells) != f.Cols*f.Rows || missing != nil && len(missing) != len(cells) {
		return nil, fmt.Errorf("%d values and %d marks do not fill a grid of %d × %d cells", len(cells), len(missing), f.Cols, f.Rows)
	}
	g := &Grid[T]{frame: f, cells: cells, gone: missing}
	some := false
	for i, v := range cells {
		switch {
		case missing != nil && missing[i]:
			cells[i], some = 0, true
		// true for NaN and the infinities alone, and never for an integer
		case v-v != 0:
			g.unset(i)
			some = true
		}
	}
	// no marks are kept, a byte a cell
	if !some {
		g.gone = nil
	}
	return g, nil
}

// Frame returns where the cells lie.
func (g *Grid[T]) Frame() Frame { return g.frame }

// At returns the value of a cell; ok is false when it is missing. The cell must lie in the frame.
func (g *Grid[T]) At(col, row int) (v T, ok bool) {
	i := row*g.frame.Cols + col
	return g.cells[i], g.gone == nil || !g.gone[i]
}

// Row returns the values of a row and which of them are missing (nil when none of the whole grid is). Only to be read.
func (g *Grid[T]) Row(row int) (values []T, missing []bool) {
	from, to := row*g.frame.Cols, (row+1)*g.frame.Cols
	if g.gone != nil {
		missing = g.gone[from:to:to]
	}
	return g.cells[from:to:to], missing
}

// Set gives a cell a value; NaN and infinities make it missing.
func (g *Grid[T]) Set(col, row int, v T) {
	i := row*g.frame.Cols + col
	// see FromCells
	if v-v != 0 {
		g.unset(i)
		return
	}
	g.cells[i] = v
	if g.gone != nil {
		g.gone[i] = false
	}
}

// Unset makes a cell missing.
func (g *Grid[T]) Unset(col, row int) { g.unset(row*g.frame.Cols + col) }

// unset makes a cell missing; the first such makes the marks.
func (g *Grid[T]) unset(i int) {
	if g.gone == nil {
		g.gone = make([]bool, len(g.cells))
	}
	g.cells[i], g.gone[i] = 0, true
}

// Missing returns how many cells are missing.
func (g *Grid[T]) Missing() int {
	n := 0
	for _, gone := range g.gone {
		if gone {
			n++
		}
	}
	return n
}

// Range returns the smallest and the largest value; ok is false when all cells are missing.
func (g *Grid[T]) Range() (least, most T, ok bool) {
	for i, v := range g.cells {
		if g.gone != nil && g.gone[i] {
			continue
		}
		if !ok {
			least, most, ok = v, v, true
		}
		least, most = min(least, v), max(most, v)
	}
	return least, most, ok
}

// Value returns what the cell under a point of the grid's own system holds, as a float64; ok is false outside the grid and where
// it is missing. Integers beyond 2^53 are rounded.
func (g *Grid[T]) Value(p orb.Point) (v float64, ok bool) {
	col, row, ok := g.frame.Locate(p)
	if !ok {
		return 0, false
	}
	t, ok := g.At(col, row)
	return float64(t), ok
}

// Cut returns a copy of a window.
func (g *Grid[T]) Cut(w Window) (*Grid[T], error) {
	if err := g.frame.Within(w); err != nil {
		return nil, err
	}
	cells := make([]T, 0, w.Cols*w.Rows)
	var gone []bool
	for r := w.Row; r < w.Row+w.Rows; r++ {
		values, missing := g.Row(r)
		cells = append(cells, values[w.Col:w.Col+w.Cols]...)
		if missing != nil {
			gone = append(gone, missing[w.Col:w.Col+w.Cols]...)
		}
	}
	return FromCells(g.frame.Window(w), cells, gone)
}

// Map returns a grid of f of each value; a cell stays missing, and becomes so where f says false.
func Map[T, U Number](g *Grid[T], f func(T) (U, bool)) *Grid[U] {
	// Marks of missing cells are made by the first that is missing.
	out := &Grid[U]{frame: g.frame, cells: make([]U, len(g.cells))}
	for i, v := range g.cells {
		if g.gone != nil && g.gone[i] {
			out.unset(i)
			continue
		}
		if u, ok := f(v); ok && u-u == 0 {
			out.cells[i] = u
		} else {
			out.unset(i)
		}
	}
	return out
}

// Whole turns a float into an integer when it is one, exactly: keys stored as floats.
func Whole[F ~float32 | ~float64](v F) (int64, bool) {
	w := float64(v)
	// 2^63 itself is a float and no int64; NaN is unequal to everything, and is refused.
	if w != math.Trunc(w) || w < -1<<63 || w >= 1<<63 {
		return 0, false
	}
	return int64(w), true
}
