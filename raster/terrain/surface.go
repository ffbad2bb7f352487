package terrain

import (
	"math"

	"rootworthy/raster"
)

// surface is heights in metres by rows, with the sizes of the cells.
type surface struct {
	spacing
	frame      raster.Frame
	cols, rows int
	z          []float64
	gone       []bool // always there
}

// surfaceOf takes the heights out of a grid.
func surfaceOf[T raster.Number](g *raster.Grid[T], ground Ground) (*surface, error) {
	f := g.Frame()
	m, err := ground.measure(f)
	if err != nil {
		return nil, err
	}
	s := &surface{spacing: m, frame: f, cols: f.Cols, rows: f.Rows, z: make([]float64, 0, f.Cols*f.Rows), gone: make([]bool, f.Cols*f.Rows)}
	for r := range f.Rows {
		values, gone := g.Row(r)
		// gone is nil where no cell is missing, and copies nothing.
		copy(s.gone[r*f.Cols:], gone)
		for _, v := range values {
			s.z = append(s.z, float64(v)*m.height)
		}
	}
	return s, nil
}

// around lists the eight neighbours, east first, counter-clockwise.
func around() [8][2]int {
	return [8][2]int{{1, 0}, {1, -1}, {0, -1}, {-1, -1}, {-1, 0}, {-1, 1}, {0, 1}, {1, 1}}
}

// neighbour returns the cell in a direction of [around]; ok is false beyond the edge and where it is missing.
func (s *surface) neighbour(i int, step [2]int) (j int, ok bool) {
	c, r := i%s.cols+step[0], i/s.cols+step[1]
	if uint(c) >= uint(s.cols) || uint(r) >= uint(s.rows) {
		return 0, false
	}
	j = r*s.cols + c
	return j, !s.gone[j]
}

// rim tells whether a cell lies at the edge of the raster or beside a missing cell: there water may leave, or come in.
func (s *surface) rim(i int) bool {
	for _, step := range around() {
		if _, ok := s.neighbour(i, step); !ok {
			return true
		}
	}
	return false
}

// area returns the square metres of a cell.
func (s *surface) area(i int) float64 { return s.dx[i/s.cols] * s.dy[i/s.cols] }

// width returns the side of a square as large as the cell.
func (s *surface) width(i int) float64 { return math.Sqrt(s.area(i)) }

// grid makes a grid of values by rows.
// A copy of the marks, since a grid owns what it is given.
func (s *surface) grid(values []float64) (*raster.Grid[float64], error) {
	return raster.FromCells(s.frame, values, append([]bool(nil), s.gone...))
}
