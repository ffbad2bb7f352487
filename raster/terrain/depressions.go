package terrain

import (
	"context"
	"fmt"
	"math"

	"rootworthy/raster"
)

// DepressionOptions tunes Depressions; the zero value keeps every hollow of a cell and more, noise of the survey included.
type DepressionOptions struct {
	MinDepth float64 // metres; shallower hollows are left out
	MinArea  float64 // square metres; smaller ones are left out
}

// Depression is a hollow that water cannot leave before it is full.
type Depression struct {
	Col, Row int     // its deepest cell, the first by rows
	Cells    int     // under water when full
	Area     float64 // m²
	Depth    float64 // m, at the deepest cell
	Volume   float64 // m³
	Level    float64 // m, height of its way out
}

// Depressions returns the hollows of the ground, in the order of their first cell by rows, and how deep each cell lies under
// the water of one that is full, in metres, 0 outside them. A hollow that holds several is one. Water leaves at the edge of
// the raster and beside missing cells.
//
// Source: see flood; what is a hollow and what is noise is for the caller to say: a height model is good to some decimetres.
func Depressions[T raster.Number](ctx context.Context, z *raster.Grid[T], g Ground, opt DepressionOptions) ([]Depression, *raster.Grid[float64], error) {
	if !(opt.MinDepth >= 0 && opt.MinArea >= 0) {
		return nil, nil, fmt.Errorf("a least depth of %v m and a least area of %v m²; neither can be negative", opt.MinDepth, opt.MinArea)
	}
	s, err := surfaceOf(z, g)
	if err != nil {
		return nil, nil, err
	}
	// without tilt: what is filled is level, and so one water has one height
	level, err := s.flood(ctx, false)
	if err != nil {
		return nil, nil, err
	}
	depth, seen := make([]float64, len(level)), make([]bool, len(level))
	var all []Depression
	var cells []int32
	// By rows, so that each hollow is met at its first cell and the list has that order.
	for i := range level {
		// dry where the water level is the ground
		if s.gone[i] || seen[i] || level[i] <= s.z[i] {
			continue
		}
		// One list for all hollows, used again.
		cells = s.pond(level, seen, i, cells[:0])
		d := s.sum(level, cells)
		// left out of the grid as well: depths and list tell the same
		if d.Depth < opt.MinDepth || d.Area < opt.MinArea {
			continue
		}
		all = append(all, d)
		for _, j := range cells {
			depth[j] = level[j] - s.z[j]
		}
	}
	grid, err := s.grid(depth)
	return all, grid, err
}

// pond collects the cells under one water, from any of them.
func (s *surface) pond(level []float64, seen []bool, from int, cells []int32) []int32 {
	seen[from] = true
	cells = append(cells, int32(from))
	for k := 0; k < len(cells); k++ {
		for _, step := range around() {
			j, ok := s.neighbour(int(cells[k]), step)
			// of one level: waters that touch at different levels are two
			if ok && !seen[j] && level[j] > s.z[j] && level[j] == level[from] {
				seen[j] = true
				cells = append(cells, int32(j))
			}
		}
	}
	return cells
}

// sum measures a pond.
func (s *surface) sum(level []float64, cells []int32) Depression {
	d := Depression{Cells: len(cells), Level: level[cells[0]]}
	deepest := int32(math.MaxInt32)
	for _, i := range cells {
		h := level[i] - s.z[i]
		d.Area += s.area(int(i))
		d.Volume += h * s.area(int(i))
		if h > d.Depth || h == d.Depth && i < deepest {
			d.Depth, deepest = h, i
		}
	}
	d.Col, d.Row = int(deepest)%s.cols, int(deepest)/s.cols
	return d
}
