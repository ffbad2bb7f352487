package soilmap

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/raster"
	"rootworthy/raster/geotiff"
	"rootworthy/soils"
)

// gridLayer is one raster of a stack.
type gridLayer struct {
	gridName
	name  string // as the user named it
	file  *geotiff.File
	frame raster.Frame
}

// stack is ground whose soil was modelled cell by cell. Every cell is a map unit of its own with one soil: neighbours
// differ a little in every value, and to merge those that look alike would say that somebody drew a line there. The
// model knows no drainage and no depth to rock, so cells are rated only where what it knows rules them out.
type stack struct {
	ground ground
	cells  []cell // by row, then column; those with a value
	units  []soils.MapUnit
}

// cell is a cell that is near some field.
type cell struct{ col, row int }

// maxStackCells bounds the cells of a stack: 60,000 km² of 250 m cells, beyond any set of fields.
const maxStackCells = 1_000_000

// stackArea is the symbol under which modelled ground goes.
const stackArea = "SoilGrids"

// openStack reads the layers around the fields.
func openStack(ctx context.Context, layers []gridLayer, around []orb.Bound, faults *diag.List) (*stack, error) {
	layers, err := sortLayers(layers, faults)
	if err != nil {
		return nil, err
	}
	frame := layers[0].frame
	// One grid for all: a cell has one soil, and values of half a cell off would be of another.
	for _, l := range layers[1:] {
		if !alike(frame, l.frame) {
			return nil, fmt.Errorf("%s: its cells do not lie where those of %s lie; give layers cut out of one grid to one window", l.name, layers[0].name)
		}
	}
	// The cells that lie near fields, and of each the value of every layer: a country's is not read whole.
	s := &stack{}
	if s.ground, err = newGround(frame, around); err != nil {
		return nil, fmt.Errorf("%s: %w", layers[0].name, err)
	}
	near, err := s.near(around)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", layers[0].name, err)
	}
	values := make([][]float64, len(layers)) // by layer, then cell; negative: none
	for i := range layers {
		if values[i], err = s.read(ctx, &layers[i], near); err != nil {
			return nil, err
		}
	}
	s.describe(layers, near, values)
	return s, nil
}

// sortLayers drops layers that are not read, and orders the rest.
func sortLayers(layers []gridLayer, faults *diag.List) ([]gridLayer, error) {
	var out []gridLayer
	ph := false
	for _, l := range layers {
		if _, ok := l.of(); !ok {
			faults.Notice(diag.Fault{File: l.name, Kind: "layer not used", What: "nothing is made of " + l.gridName.String()})
			continue
		}
		// without pH nothing could be rated or limed, and the run would be thousands of cells of nothing
		ph = ph || l.property == "phh2o"
		// A layer of quantiles counts as pH too: a median will do in place of the mean.
		out = append(out, l)
	}
	if !ph {
		return nil, fmt.Errorf("%s: modelled soil properties without pH; add phh2o_0-5cm_mean.tif and the deeper ones", layers[0].name)
	}
	slices.SortFunc(out, func(a, b gridLayer) int {
		return cmp.Or(cmp.Compare(a.property, b.property), cmp.Compare(a.top, b.top), cmp.Compare(a.bottom, b.bottom), cmp.Compare(a.figure, b.figure), cmp.Compare(a.name, b.name))
	})
	for i := 1; i < len(out); i++ {
		// two files of one thing, perhaps of two editions: neither is the better by its name
		if out[i].gridName == out[i-1].gridName {
			return nil, fmt.Errorf("%s: %s stands in %s too; give it once", out[i].name, out[i].gridName, out[i-1].name)
		}
	}
	return out, nil
}

// alike says whether two frames have the same cells, to a millionth of one.
func alike(a, b raster.Frame) bool {
	near := func(x, y, unit float64) bool { return x-y < 1e-6*unit && y-x < 1e-6*unit }
	// The far corner is compared as well: cell sizes that differ in the last digit drift apart over thousands of cells.
	return a.Cols == b.Cols && a.Rows == b.Rows && near(a.West, b.West, a.DX) && near(a.North, b.North, a.DY) &&
		near(a.X(a.Cols), b.X(b.Cols), a.DX) && near(a.Y(a.Rows), b.Y(b.Rows), a.DY)
}

// near lists the cells around the fields, by row and column.
func (s *stack) near(around []orb.Bound) ([]cell, error) {
	windows := []raster.Window{s.ground.frame.All()}
	if around != nil {
		windows = windows[:0]
		for _, b := range around {
			windows = append(windows, windowOf(s.ground.frame, b))
		}
	}
	seen := map[cell]bool{}
	for _, w := range windows {
		// divided, not multiplied: the product may not fit
		if !w.Empty() && w.Cols > maxStackCells/w.Rows {
			return nil, fmt.Errorf("over %d cells of modelled soil; give fields, or a smaller window", maxStackCells)
		}
		for row := w.Row; row < w.Row+w.Rows; row++ {
			for col := w.Col; col < w.Col+w.Cols; col++ {
				seen[cell{col, row}] = true
			}
		}
		if len(seen) > maxStackCells {
			return nil, fmt.Errorf("over %d cells of modelled soil around the fields; screen them in parts", maxStackCells)
		}
	}
	out := make([]cell, 0, len(seen))
	for c := range seen {
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b cell) int { return cmp.Or(cmp.Compare(a.row, b.row), cmp.Compare(a.col, b.col)) })
	return out, nil
}

// none stands for a value that is missing while cells are gathered; no property can be negative.
const none = -1

// read reads one layer at the cells.
func (s *stack) read(ctx context.Context, l *gridLayer, near []cell) ([]float64, error) {
	p, _ := l.of()
	divisor := p.divisor
	if b := l.file.Bands()[0]; b.Scale != 1 { // the file brings its unit along
		divisor = 1
	}
	out := make([]float64, len(near))
	for i := range out {
		out[i] = none
	}
	// cells by the tile that they lie in
	inTile := map[[2]int][]int{}
	for i, c := range near {
		at := [2]int{c.row / tileSide, c.col / tileSide}
		inTile[at] = append(inTile[at], i)
	}
	for _, tile := range s.ground.tiles {
		cells := inTile[[2]int{tile.Row / tileSide, tile.Col / tileSide}]
		// tiles reach past the cells that are near
		if len(cells) == 0 {
			continue
		}
		// by tiles, each once, and not by cells: a block is unpacked for one cell as for all
		g, err := geotiff.Read[float64](ctx, l.file, geotiff.Request{Window: tile})
		if err != nil {
			return nil, err
		}
		for _, i := range cells {
			c := near[i]
			// out of range is missing without a word: fillers are no values
			// Columns and rows of the whole raster are brought to those of the tile that was read.
			if v, ok := g.At(c.col-tile.Col, c.row-tile.Row); ok && v >= 0 && v/divisor <= p.most {
				out[i] = v / divisor
			}
		}
	}
	return out, nil
}

// survey returns the attribute side.
func (s *stack) survey() *soils.Survey {
	// General, as a state's map is: that is what keeps confidence in it low.
	return &soils.Survey{Areas: []soils.Area{{Symbol: stackArea, Name: "modelled soil properties", General: true,
		Credit: "ISRIC - World Soil Information, SoilGrids 2.0 (CC BY 4.0): soil properties modelled in cells of 250 m, a stand-in where no soil survey is at hand"}}, Units: sortedUnits(s.units)}
}

// sortedUnits is a copy, for the cells name their units by place in the other order.
func sortedUnits(units []soils.MapUnit) []soils.MapUnit {
	out := slices.Clone(units)
	slices.SortFunc(out, func(a, b soils.MapUnit) int { return soils.CompareKeys(a.Key, b.Key) })
	return out
}

// polygons emits every cell.
func (s *stack) polygons(ctx context.Context, emit func(area, key string, shape orb.MultiPolygon) error) error {
	g := &s.ground
	for i, c := range s.cells {
		if i%256 == 0 && ctx.Err() != nil {
			return context.Cause(ctx)
		}
		at := func(col, row int) orb.Point { return orb.Point{g.frame.X(col), g.frame.Y(row)} }
		// From the north-west corner down, so the ring runs counter-clockwise on the ground.
		square := orb.Polygon{{at(c.col, c.row), at(c.col, c.row+1), at(c.col+1, c.row+1), at(c.col+1, c.row), at(c.col, c.row)}}
		p, ok := g.toEarth(square)
		if !ok {
			continue // in the gap between two lobes of the grid: no ground
		}
		if err := emit(stackArea, s.units[i].Key, orb.MultiPolygon{p}); err != nil {
			return err
		}
	}
	return nil
}
