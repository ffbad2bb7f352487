package raster

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/proj"
)

// maxSide bounds a frame, so that cells can be counted; a country at 10 m has half a million columns.
const maxSide = 1 << 30

// maxCells bounds what a grid holds, so that a cell's number fits an int32; 46,000 × 46,000 cells.
const maxCells = math.MaxInt32

// Frame says where the cells of a grid lie. Rows run from north to south, columns from west to east, and the grid
// stands square to its axes. Lengths are in the unit of the system: metres, feet or degrees.
type Frame struct {
	Cols, Rows  int
	West, North float64  // outer edges of the first column and the first row
	DX, DY      float64  // width and height of a cell; both positive
	CRS         proj.CRS // the zero value when nobody knows
}

// Check says what is wrong with a frame that no grid can have.
func (f Frame) Check() error {
	switch {
	case f.Cols < 1 || f.Rows < 1:
		return fmt.Errorf("a grid of %d × %d cells has no ground; it needs a column and a row at least", f.Cols, f.Rows)
	case f.Cols > maxSide || f.Rows > maxSide:
		return fmt.Errorf("a grid of %d × %d cells is over the limit of %d a side", f.Cols, f.Rows, maxSide)
	// Negated, so that NaN is refused too.
	case !(f.DX > 0 && f.DY > 0) || !finite(f.X(0), f.Y(0)) || !finite(f.X(f.Cols), f.Y(f.Rows)):
		return fmt.Errorf("a grid with cells of %v × %v from %v, %v has no place; cell sizes are positive and corners finite",
			f.DX, f.DY, f.West, f.North)
	// far from zero a cell can be smaller than the step between two floats
	case f.X(f.Cols-1) == f.X(f.Cols) || f.X(0) == f.X(1) || f.Y(f.Rows-1) == f.Y(f.Rows) || f.Y(0) == f.Y(1):
		return fmt.Errorf("cells of %v × %v are too small to be told apart at %v, %v", f.DX, f.DY, f.West, f.North)
	}
	return nil
}

// finite says whether both are numbers: x - x is 0 but for NaN and the infinities.
func finite(x, y float64) bool { return x-x == 0 && y-y == 0 }

// checkHeld says what is wrong with a frame whose cells are to be held at once.
func (f Frame) checkHeld() error {
	if err := f.Check(); err != nil {
		return err
	}
	// divided, not multiplied: the product may not fit
	if f.Cols > maxCells/f.Rows {
		return fmt.Errorf("a grid of %d × %d cells is over the limit of %d at once; take a window of it", f.Cols, f.Rows, maxCells)
	}
	return nil
}

// X returns the x of the line west of a column; X(Cols) is the east edge. The same column gives the same bits.
func (f Frame) X(col int) float64 { return f.West + float64(col)*f.DX }

// Y returns the y of the line north of a row; Y(Rows) is the south edge.
func (f Frame) Y(row int) float64 { return f.North - float64(row)*f.DY }

// Center returns the middle of a cell.
func (f Frame) Center(col, row int) orb.Point {
	return orb.Point{f.West + (float64(col)+0.5)*f.DX, f.North - (float64(row)+0.5)*f.DY}
}

// Bound returns the outer edges of all cells.
func (f Frame) Bound() orb.Bound {
	return orb.Bound{Min: orb.Point{f.West, f.Y(f.Rows)}, Max: orb.Point{f.X(f.Cols), f.North}}
}

// place returns where a point lies, counted in cells from the north-west corner.
func (f Frame) place(p orb.Point) (col, row float64) {
	return (p[0] - f.West) / f.DX, (f.North - p[1]) / f.DY
}

// Locate returns the cell that holds a point in the frame's system; a point on a line belongs to the cell east or south
// of it. ok is false outside the frame and for NaN.
func (f Frame) Locate(p orb.Point) (col, row int, ok bool) {
	c, r := f.place(p)
	if !(c >= 0 && c < float64(f.Cols) && r >= 0 && r < float64(f.Rows)) {
		return 0, 0, false
	}
	return int(c), int(r), true
}

// Window is a block of whole cells of a frame.
type Window struct{ Col, Row, Cols, Rows int }

// Empty tells whether the window holds no cell.
func (w Window) Empty() bool { return w.Cols < 1 || w.Rows < 1 }

// All returns the window of all cells.
func (f Frame) All() Window { return Window{0, 0, f.Cols, f.Rows} }

// Covering returns the smallest window of whole cells of the frame that covers what of the bound lies in it; it is
// empty when they do not meet.
func (f Frame) Covering(b orb.Bound) Window {
	// north-west and south-east corner, as rows run southward
	c0, r0 := f.place(orb.Point{b.Min[0], b.Max[1]})
	c1, r1 := f.place(orb.Point{b.Max[0], b.Min[1]})
	if !(c0 <= c1 && r0 <= r1) { // also NaN
		return Window{}
	}
	w := Window{Col: clampInt(math.Floor(c0), f.Cols), Row: clampInt(math.Floor(r0), f.Rows)}
	w.Cols = clampInt(math.Ceil(c1), f.Cols) - w.Col
	w.Rows = clampInt(math.Ceil(r1), f.Rows) - w.Row
	if w.Empty() {
		return Window{}
	}
	return w
}

// clampInt brings a whole number into 0…most.
// NaN cannot come here: Covering refuses it.
func clampInt(v float64, most int) int { return int(math.Max(0, math.Min(v, float64(most)))) }

// Within says what is wrong with a window that does not lie in the frame.
func (f Frame) Within(w Window) error {
	// subtracted, not added: a sum of hostile numbers may wrap round
	if w.Empty() || w.Col < 0 || w.Row < 0 || w.Col > f.Cols-w.Cols || w.Row > f.Rows-w.Rows {
		return fmt.Errorf("a window of %d × %d cells from column %d, row %d does not lie in a grid of %d × %d",
			w.Cols, w.Rows, w.Col, w.Row, f.Cols, f.Rows)
	}
	return nil
}

// Window returns the frame of a window.
func (f Frame) Window(w Window) Frame {
	// All four at once: f.X and f.Y are still those of the whole frame.
	f.West, f.North, f.Cols, f.Rows = f.X(w.Col), f.Y(w.Row), w.Cols, w.Rows
	return f
}
